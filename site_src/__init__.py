"""The website around the sums."""
