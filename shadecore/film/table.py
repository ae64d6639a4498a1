"""The exact film, tabulated once over albedo and optical depth.

A look-up costs about as much as the two-flux formula; solving the film anew costs about
a thousand times more.
"""

from functools import cache, cached_property

import numpy as np
from numpy.typing import NDArray

from shadecore.film.ladder import PER_OCTAVE, STARTING_DEPTH
from shadecore.film.two_flux import FilmTerms
from shadecore.kept import kept_or_made

ALBEDO_NODES = 145
OCTAVES = 27
"""Doublings of the depth, from 6e-5 (a film that changes nothing) to 8e3 (a film that
hides whatever it is made of)."""
LONGEST_LADDER = 96
"""Films that one look-up can take."""

_ABSORPTION_COEFFICIENT_PER_K = 1.0 / 2.0
_SCATTERING_COEFFICIENT_PER_S = 4.0 / 3.0


def albedo_and_depth_per_um(
    absorption: NDArray[np.floating], scattering: NDArray[np.floating]
) -> tuple[NDArray[np.floating], NDArray[np.floating]]:
    """Transport coefficients of a paint given by its two-flux K and S.

    ``mu_a = K / 2`` and ``mu_s' = 4 S / 3``: in the diffusion limit (much scattering,
    little absorption) both theories then give the same film.

    Parameters
    ----------
    absorption, scattering : array
        K and S of the dry film. [1/um]

    Returns
    -------
    loss : array
        One minus the single-scattering albedo, 0..1.
    depth_per_um : array
        Optical depth of one micrometre. [1/um]

    References
    ----------
    .. [1] W. E. Vargas and G. A. Niklasson, "Applicability conditions of the
       Kubelka-Munk theory", Appl. Opt. 36 (1997) 5580 (from memory).
    """
    absorbed = absorption * _ABSORPTION_COEFFICIENT_PER_K
    depth = absorbed + scattering * _SCATTERING_COEFFICIENT_PER_S
    loss = np.divide(absorbed, depth, out=np.ones_like(depth), where=depth > 0)
    return loss, depth


class FilmTable:
    """Exact films by linear interpolation in a table, read in air at 45/0.

    Nodes are evenly spaced in the fourth root of the absorbed share and in the
    logarithm of the depth. Reflectances are closest to straight lines along these two,
    so that few nodes suffice.

    Parameters
    ----------
    nodes : array, shape (albedos, depths, 3), optional
        As :func:`solve_nodes` gives them; solved unless given.
    """

    def __init__(self, nodes: NDArray[np.float32] | None = None) -> None:
        self._nodes = solve_nodes() if nodes is None else nodes
        self._deepest = self._nodes.shape[1] - 1

    @cached_property
    def _rungs(self) -> NDArray[np.float32]:
        """Runs of depths, shape (albedos, depths, 3, rungs); the ends go on and on."""
        ends = ((0, 0), (LONGEST_LADDER, LONGEST_LADDER + 1), (0, 0))
        longer = np.pad(self._nodes, ends, mode="edge")
        longer = np.ascontiguousarray(np.swapaxes(longer, 1, 2))
        runs = np.lib.stride_tricks.sliding_window_view(
            longer, LONGEST_LADDER + 1, axis=2
        )
        return np.swapaxes(runs, 1, 2)

    def ladder(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        first_um: float,
        films: int,
    ) -> FilmTerms:
        """The same as :meth:`terms` for films that grow by ``LADDER_STEP``.

        All of them lie equally far between the table's depths, so each wavelength
        takes one run of the table.

        Parameters
        ----------
        absorption, scattering : array, shape (paints, wavelengths)
            K and S of the dry film. [1/um]
        first_um : float
            The thinnest film. [um]
        films : int
            How many, up to ``LONGEST_LADDER``.

        Returns
        -------
        FilmTerms
            Arrays of shape (paints, films, wavelengths).
        """
        loss, depth_per_um = albedo_and_depth_per_um(absorption, scattering)
        low, part = self._columns(loss)
        depth = np.maximum(depth_per_um * first_um, np.finfo(np.float32).tiny)
        row = np.log2(depth / STARTING_DEPTH) * PER_OCTAVE
        row = np.clip(row, -LONGEST_LADDER, self._deepest).astype(np.float32)
        first = np.floor(row)
        up = (row - first)[..., None, None].astype(np.float32)
        across = part[..., None, None]
        place = first.astype(np.intp) + LONGEST_LADDER
        runs = self._rungs[..., : films + 1]
        near = runs[low, place]
        near += across * (runs[low + 1, place] - near)
        film = near[..., :-1] + up * np.diff(near, axis=-1)
        return FilmTerms(*np.ascontiguousarray(film.transpose(2, 0, 3, 1)))

    def _columns(
        self, loss: NDArray[np.floating]
    ) -> tuple[NDArray[np.intp], NDArray[np.float32]]:
        place = np.sqrt(np.sqrt(loss)) * (ALBEDO_NODES - 1)
        low = np.minimum(place.astype(np.intp), ALBEDO_NODES - 2)
        return low, (place - low).astype(np.float32)

    def masstone(
        self, absorption: NDArray[np.floating], scattering: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """Reading in air of a film thick enough to hide.

        Parameters
        ----------
        absorption, scattering : array
            K and S, in the same unit.
        """
        loss, _ = albedo_and_depth_per_um(absorption, scattering)
        low, part = self._columns(loss)
        thick = self._nodes[:, self._deepest, 0]
        return np.asarray(thick[low] * (1.0 - part) + thick[low + 1] * part)

    def absorption_to_scattering(
        self, masstone: NDArray[np.floating]
    ) -> NDArray[np.floating]:
        """K/S of a film that hides, from its reading in air.

        Parameters
        ----------
        masstone : array
            Reading at 45/0, 0..1. Outside what a film can read, the nearest end of the
            table is taken.

        Returns
        -------
        array, same shape
        """
        share = np.linspace(0.0, 1.0, ALBEDO_NODES)
        thick = self._nodes[:, self._deepest, 0]
        loss = np.interp(masstone, thick[::-1], share[::-1]) ** 4
        scattered = np.maximum(1.0 - loss, np.finfo(np.float32).eps)
        ratio = _SCATTERING_COEFFICIENT_PER_S / _ABSORPTION_COEFFICIENT_PER_K
        return np.asarray(loss / scattered * ratio)

    def terms(
        self,
        absorption: NDArray[np.floating],
        scattering: NDArray[np.floating],
        dry_film_um: NDArray[np.floating],
    ) -> FilmTerms:
        """Reading in air of a film over any backing.

        Parameters
        ----------
        absorption, scattering : array, shape (..., wavelengths)
            K and S of the dry film. [1/um]
        dry_film_um : array, shape (films,)
            Dry film thicknesses. [um]

        Returns
        -------
        FilmTerms
            Arrays of shape (..., films, wavelengths).
        """
        loss, depth_per_um = albedo_and_depth_per_um(absorption, scattering)
        low, part = self._columns(loss)
        smallest = np.finfo(np.float32).tiny
        octave = np.log2(np.maximum(depth_per_um, smallest) / STARTING_DEPTH)
        film_octave = np.log2(np.maximum(dry_film_um, smallest)).astype(np.float32)
        row = (octave[..., None, :].astype(np.float32) + film_octave[:, None]) * (
            PER_OCTAVE
        )
        np.clip(row, 0.0, self._deepest, out=row)
        row_low = np.minimum(row.astype(np.intp), self._deepest - 1)
        row_part = (row - row_low).astype(np.float32)[..., None]
        # Nodes as one long list: `corner` is the place of the lower albedo and depth,
        # a column of depths further on is the next albedo.
        flat = self._nodes.reshape(-1, 3)
        corner = low[..., None, :] * (self._deepest + 1) + row_low
        nearer = flat[corner] * (1 - row_part) + flat[corner + 1] * row_part
        corner += self._deepest + 1
        farther = flat[corner] * (1 - row_part) + flat[corner + 1] * row_part
        across = part[..., None, :, None]
        film = nearer + (farther - nearer) * across
        return FilmTerms(film[..., 0], film[..., 1], film[..., 2])


def solve_nodes() -> NDArray[np.float32]:
    """Solve the films at the nodes.

    Returns
    -------
    array, shape (albedos, depths, 3)
        The numbers of :class:`FilmTerms`.
    """
    # Kept arrays need no solver, and what it rests on takes a while to load.
    from shadecore.film.transport import solve_films  # noqa: PLC0415

    share = np.linspace(0.0, 1.0, ALBEDO_NODES)
    _, solved = solve_films(1.0 - share**4, OCTAVES, PER_OCTAVE)
    return np.stack(solved, axis=-1).astype(np.float32)


@cache
def film_table() -> FilmTable:
    """The table, solved at its first use and then kept."""
    shape = (ALBEDO_NODES, OCTAVES * PER_OCTAVE, 3)
    (nodes,) = kept_or_made(("films",), (shape,), lambda: (solve_nodes(),))
    return FilmTable(np.array(nodes))
