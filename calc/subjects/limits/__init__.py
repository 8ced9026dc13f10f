"""How much gear the model may carry, and how sure that is."""
