"""The long search for room: places that balance best, what would make the gear go in, and as edits."""
