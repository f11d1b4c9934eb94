"""Where air stays under the master during the pour."""
