"""A photo of a swatch: from a file to a colour with its uncertainty.

A picture is opened (:mod:`shadecore.photo.picture`), areas of it are read in linear
light (:mod:`shadecore.photo.area`), the light is corrected by a neutral reference
(:mod:`shadecore.photo.reference`) or a chart (:mod:`shadecore.photo.chart_fit`), and
the covariances of all errors are added up. Start at :mod:`shadecore.photo.measure`.
"""
