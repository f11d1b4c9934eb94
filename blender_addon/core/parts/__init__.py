"""The solids to print, each one a closed manifold."""
