"""What a product sheet says of each product."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from shadecore.errors import JobError

KINDS = (
    "cleaner",
    "filler",
    "adhesion_promoter",
    "etch_primer",
    "seam_sealer",
    "stone_chip",
    "surfacer",
    "sealer",
    "base_coat",
    "mid_coat",
    "clear_coat",
    "polish",
)
"""Kinds of product, in the order of the job."""
ASKED = ("adhesion_promoter", "seam_sealer", "stone_chip")
"""Kinds whose window and amount are asked of their data sheets where a line has
none."""
OPTIONAL = ("mid_coat", *ASKED)
"""Kinds that a line need not have: mid-coats and candy are not in every one."""
SPRAYED = (
    *("adhesion_promoter", "etch_primer", "stone_chip", "surfacer", "sealer"),
    *("base_coat", "mid_coat", "clear_coat"),
)
"""Kinds of product that are sprayed and leave a film."""
SANDED = ("filler", "sand_for_surfacer", "block_sand", "sand_clear", "cut")
"""Keys of the steps that a sheet may give grits for."""
HAZARDS = (
    *("isocyanate", "solvent", "chromate", "dust"),
    *("acid", "peroxide", "stripper"),
)
"""What cautions there are for."""
OF_KIND = {"etch_primer": ("acid",), "filler": ("peroxide",)}
"""Hazards that every product of a kind brings, also where its sheet does not list them:
an etch primer bites by acid, polyester filler hardens by peroxide. Common practice, no
source."""
GUN_TYPES = ("hvlp", "compliant", "conventional")
"""By how much air they use for how much pressure, the softest first."""
MISSED = ("scuff", "sand", "re-etch")
"""What a missed window may cost."""
SUPPLIED_AIR = "supplied_air"
BREATHING = (SUPPLIED_AIR, "vapour_cartridge", "particle_filter")
"""What is breathed through; the first serves for the others, which are worn at once."""


@dataclass(frozen=True)
class Gun:
    """How the gun is set.

    Attributes
    ----------
    tip_mm : float
        Fluid tip. [mm]
    inlet_bar : float
        Air pressure at the gun's inlet. [bar]
    distance_cm : float
        From the panel. [cm]
    overlap : float
        Share of the fan that covers the stroke before, 0..1.
    type : str
        One of ``GUN_TYPES``; empty where the sheet does not say.
    cap_bar : float or None
        Air pressure at the air cap; None where the sheet does not say. [bar]
    passes : int
        How often the gun goes over the panel for one coat: 2 for a double coat.
    fan_cm : float or None
        Width of the fan on the panel; None where the sheet does not say. [cm]
    """

    tip_mm: float
    inlet_bar: float
    distance_cm: float
    overlap: float
    type: str = ""
    cap_bar: float | None = None
    passes: int = 1
    fan_cm: float | None = None


@dataclass(frozen=True)
class Viscosity:
    """How thick a mix is ready to spray, by a flow cup.

    Attributes
    ----------
    cup : str
        Key of the cup in ``data/viscosity-cups.csv``.
    low_s, high_s : float
        Least and most seconds. [s]
    """

    cup: str
    low_s: float
    high_s: float


@dataclass(frozen=True)
class Component:
    """One component of a mix.

    Attributes
    ----------
    name : str
        What it is called.
    parts : float
        Parts by volume.
    density_g_per_l : float
        [g/L]
    voc_g_per_l : float
        Volatile organic compounds in one litre of it, exempt ones left out. [g/L]
    water_g_per_l, exempt_g_per_l : float
        Water and exempt compounds in one litre of it. [g/L]
    exempt_density_g_per_l : float
        Density of the exempt compounds. [g/L]
    volume_solids : float
        0..1.
    price_per_l : float
        [currency/L]
    can_sizes_l : tuple of float
        Sizes it is sold in, ascending: what is in the can, which may hold more. [L]
    half_full : bool
        Whether its cans have room for as much again, so that the rest of the mix is
        added in the can.
    """

    name: str
    parts: float
    density_g_per_l: float
    voc_g_per_l: float
    water_g_per_l: float
    exempt_g_per_l: float
    exempt_density_g_per_l: float
    volume_solids: float
    price_per_l: float
    can_sizes_l: tuple[float, ...]
    half_full: bool = False


@dataclass(frozen=True)
class Windows:
    """Times a product needs at the sheet's reference temperature.

    Attributes
    ----------
    flash_min : float
        Between coats. [min]
    recoat_after_min : float
        Before the next product. [min]
    recoat_within_h : float or None
        After which it must be scuffed or sanded first; None for no limit. [h]
    sand_after_h : float or None
        Before it may be sanded; None where it is not sanded. [h]
    bake_min, bake_c : float or None
        Time and panel temperature of baking; None where it is not baked.
    air_cure_h : float or None
        Until it is cured without baking. [h]
    missed : str
        What a missed window costs, one of ``MISSED``.
    lamp_min : float or None
        Under a short-wave infrared lamp until it is cured; None where the sheet does
        not say. [min]
    tape_after_min : float or None
        Before tape may lie on it; None where the sheet does not say. [min]
    """

    flash_min: float
    recoat_after_min: float
    recoat_within_h: float | None
    sand_after_h: float | None
    bake_min: float | None
    bake_c: float | None
    air_cure_h: float | None
    missed: str
    lamp_min: float | None = None
    tape_after_min: float | None = None


@dataclass(frozen=True)
class SpeedGrade:
    """A reducer or hardener and the temperatures it is for.

    Attributes
    ----------
    name : str
        What it is called.
    from_c, to_c : float
        Air temperatures it is for. [degrees C]
    """

    name: str
    from_c: float
    to_c: float


@dataclass(frozen=True)
class Product:
    """One product.

    Attributes
    ----------
    key : str
        Name of its table in the sheet.
    kind : str
        One of ``KINDS``.
    name : str
        What it is called.
    coats : int
        Usual number of coats; the base coat's come from the pick.
    dry_film_um : float
        Dry film of one coat; 0 for what leaves none. [um]
    components : tuple of Component
        The mix; empty for what is not mixed.
    gun : Gun or None
        None for what is not sprayed.
    windows : Windows
        Its times.
    reducers, hardeners : tuple of SpeedGrade
        By temperature; empty where it takes none.
    hazards : tuple of str
        Of ``HAZARDS``.
    voc_categories : dict of str to str
        Category of each rule by the rule's key in ``data/voc-limits.csv``.
    pot_life_min : float or None
        Until a mix can no longer be sprayed, at the sheet's reference temperature; None
        where the sheet does not say. [min]
    viscosity : Viscosity or None
        Of the mix; None where the sheet does not say.
    breathing : tuple of str
        Of ``BREATHING``, as its safety data sheet asks for; what its hazards ask for
        comes on top.
    cartridge : str
        Type of cartridge that its safety data sheet names; empty where it names none.
    keeps_days : float or None
        How long an opened can, or a mix that takes no hardener, may be kept; None where
        the sheet does not say. [d]
    """

    key: str
    kind: str
    name: str
    coats: int
    dry_film_um: float
    components: tuple[Component, ...]
    gun: Gun | None
    windows: Windows
    reducers: tuple[SpeedGrade, ...]
    hardeners: tuple[SpeedGrade, ...]
    hazards: tuple[str, ...]
    voc_categories: dict[str, str]
    pot_life_min: float | None = None
    viscosity: Viscosity | None = None
    breathing: tuple[str, ...] = ()
    cartridge: str = ""
    keeps_days: float | None = None

    @property
    def minded(self) -> tuple[str, ...]:
        """Hazards of the product and of its kind, in the order of ``HAZARDS``."""
        found = {*self.hazards, *OF_KIND.get(self.kind, ())}
        return tuple(each for each in HAZARDS if each in found)

    @property
    def two_pack(self) -> bool:
        """Whether its mix hardens in the can, whatever is done."""
        return bool(
            self.pot_life_min is not None
            or self.hardeners
            or "isocyanate" in self.hazards
        )


@dataclass(frozen=True)
class ProductSheet:
    """A product line.

    Attributes
    ----------
    name : str
        What it is called.
    invented : bool
        Whether it is an example and not to be sprayed by.
    currency : str
        Of its prices.
    reference_c : float
        Panel temperature its times hold at. [degrees C]
    halving_k : float
        Rise that halves a drying time, a rule of thumb. [K]
    coldest_c, warmest_c : float
        Air temperatures it may be sprayed at. [degrees C]
    most_humidity : float
        Relative humidity it may be sprayed at, 0..1.
    products : tuple of Product
        In the order of the job.
    grits : dict of str to tuple of int
        P grits of steps that are sanded otherwise than usual, coarse first, by the
        step's key.
    """

    name: str
    invented: bool
    currency: str
    reference_c: float
    halving_k: float
    coldest_c: float
    warmest_c: float
    most_humidity: float
    products: tuple[Product, ...]
    grits: dict[str, tuple[int, ...]] = field(default_factory=dict)

    def of_kind(self, kind: str) -> Product:
        """The product of a kind.

        Parameters
        ----------
        kind : str
            One of ``KINDS`` that every line has, so none of ``OPTIONAL``.

        Returns
        -------
        Product
        """
        return next(each for each in self.products if each.kind == kind)

    @property
    def over_ground(self) -> Product:
        """What mid-coats and candy are sprayed with: their own product, or the base."""
        own = (each for each in self.products if each.kind == "mid_coat")
        return next(own, self.of_kind("base_coat"))


def total_parts(components: Iterable[Component]) -> float:
    """Parts of a mix together.

    Parameters
    ----------
    components : iterable of Component
        What it is made of.

    Returns
    -------
    float

    Raises
    ------
    JobError
        If there are none.
    """
    parts = sum(each.parts for each in components)
    if not parts > 0.0:
        message = "The mix has no parts; give its components and their parts."
        raise JobError(message)
    return parts
