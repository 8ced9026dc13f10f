"""The subject field: what the wind does with a flight, and what the field takes."""
