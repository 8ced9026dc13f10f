"""What the grams cost in the air."""
