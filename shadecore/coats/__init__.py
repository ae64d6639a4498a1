"""Coats: how many hide, how sure that is, and which undercoat to pick.

Start at :mod:`shadecore.coats.pick` (the answer). It rests on
:mod:`shadecore.coats.thickness` (the film from which a paint hides an undercoat),
:mod:`shadecore.coats.loading` and :mod:`shadecore.coats.evidence` (how heavily a paint
is loaded, and what was seen of it), and :mod:`shadecore.coats.count` (coats and
intervals).
"""
