"""Attacks of our own: bad inputs at every door, kills at random moments, bad links.

``python -m attack doors --count 10000`` in ``tests`` puts so many damaged inputs to
all that reads; ``kills`` ends writing commands in the middle; ``links`` opens the pages
with damaged parameters. All of it is seeded, and each finding is printed with the words
that bring it back.
"""
