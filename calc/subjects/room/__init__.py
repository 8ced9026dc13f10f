"""Whether the gear goes into the bays."""
