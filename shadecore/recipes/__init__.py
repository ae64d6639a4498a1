"""Plausible paint recipes: what a colour known only by its Lab may be made of.

Start at :mod:`shadecore.recipes.families` (the colorants), then
:mod:`shadecore.recipes.draw` (recipes made of them) and
:mod:`shadecore.recipes.library` (recipes solved once, and found by colour).
"""
