"""The subject flights: what was flown and measured, and what that teaches."""
