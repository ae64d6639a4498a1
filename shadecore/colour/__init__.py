"""Colours as painters have them, converted to one working condition.

The working condition is CIELAB under D65 with the 10 degree observer, read at 45/0; a
perfect diffuser is white. Start at
:mod:`shadecore.colour.topcoat`; :mod:`shadecore.colour.convert` holds the
conversions, which colour-science does.
"""
