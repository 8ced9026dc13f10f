"""The page’s share of the subject air."""
