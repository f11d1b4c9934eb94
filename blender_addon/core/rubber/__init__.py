"""How much rubber to weigh out."""
