"""What stands between the page and the sums: templates, figures, the worker's door."""
