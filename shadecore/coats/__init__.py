"""Coats: how many hide, how sure that is, and which undercoat to pick.

Start at :mod:`shadecore.coats.pick` (the answer), which rests on
:mod:`shadecore.coats.course` (what each coat does) and
:mod:`shadecore.coats.estimate` (what is known of a paint from its colour).
"""
