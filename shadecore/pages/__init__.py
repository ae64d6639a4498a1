"""Documents made of blocks, and their layouts as text, HTML and PDF."""
