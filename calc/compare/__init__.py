"""Two budgets side by side."""
