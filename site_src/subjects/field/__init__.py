"""The page’s share of the subject field."""
