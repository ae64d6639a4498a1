"""Storage: shelves and colour lists as CSV, and an answer's state as a link.

Start at :mod:`shadecore.storage.table`, which reads any table row by row.
"""
