"""Effect colours: what light does among flakes, and what an effect paint may be.

Start at :mod:`shadecore.effects.geometry` (how such a colour is read) and
:mod:`shadecore.effects.lobe` (how flakes lie), then :mod:`shadecore.effects.layer` and
:mod:`shadecore.effects.first_reflection` (the film),
:mod:`shadecore.effects.recipes` and :mod:`shadecore.effects.library` (plausible effect
paints), :mod:`shadecore.effects.likely` (the paints that readings may mean),
:mod:`shadecore.effects.midcoats` (three-stage colours) and
:mod:`shadecore.effects.candy` (transparent colours over a ground).
"""
