"""The page of the shop's book: what it holds and how the shop works."""
