"""The test card: a sprayed-out card turns the estimate into a measurement.

Start at :mod:`shadecore.card.reading` (what a painter measures),
:mod:`shadecore.card.fit` (from readings to the paint) and
:mod:`shadecore.card.hiding_power` (what the standards make of it).
"""
