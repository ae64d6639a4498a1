"""Undercoats: the greys on the shelf and what two of them make together.

Start at :mod:`shadecore.undercoats.shelf`, then :mod:`shadecore.undercoats.blends`.
"""
