"""The budget document: what it may hold, how it is read and written, and how it travels."""
