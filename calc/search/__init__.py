"""The search for the best sets of gear, and where a set fits."""
