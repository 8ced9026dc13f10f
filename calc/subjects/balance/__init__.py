"""Where it balances."""
