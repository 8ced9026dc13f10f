"""How long the cells run the gear."""
