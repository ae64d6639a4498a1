"""The page that reads a colour off a photo."""
