"""Tables of stock with their sources, and the reader of them."""
