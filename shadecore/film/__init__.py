"""Film optics: what light does in a paint film.

Start at :mod:`shadecore.film.transport` (the exact film), then
:mod:`shadecore.film.table` (the exact film tabulated, which the engine uses),
:mod:`shadecore.film.two_flux` (the closed-form film) and
:mod:`shadecore.film.build` (how thick a coat dries).
"""
