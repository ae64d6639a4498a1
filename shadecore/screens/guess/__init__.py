"""The page of the exercise."""
