"""The shop's book: what was measured, sprayed and learned, in one file that is kept."""
