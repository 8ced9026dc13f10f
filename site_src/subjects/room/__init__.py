"""Whether the gear goes into the bays, on the page."""
