"""The page of the prints for a class."""
