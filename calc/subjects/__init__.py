"""One subject, one room: what is worked out of a budget, and how it is said."""
