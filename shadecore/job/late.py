"""What breaks a plan's times: windows that closed, and steps that came too soon."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from shadecore.job.climate import Climate
from shadecore.job.windows import Layer, closes_at


@dataclass(frozen=True)
class WindowClosed:
    """A layer that is coated after its window.

    Attributes
    ----------
    product : str
        The name of what was coated.
    late, open_for : timedelta
        How long after the window closed, and how long it was open.
    missed : str
        What that costs, of :data:`shadecore.job.windows.REMEDIES`.
    """

    product: str
    late: timedelta
    open_for: timedelta
    missed: str


@dataclass(frozen=True)
class StepWindowClosed:
    """A step that begins after the time that the step before it sets.

    Attributes
    ----------
    after : str
        The title of the step before.
    late : timedelta
        How long after it.
    """

    after: str
    late: timedelta


@dataclass(frozen=True)
class CameTooSoon:
    """A step that was done before a product under it was ready.

    Attributes
    ----------
    product : str
        The product's name.
    missing : timedelta
        The least that was missing.
    """

    product: str
    missing: timedelta


@dataclass(frozen=True)
class WaitCutShort:
    """A step that was done before the wait after another one was over.

    Attributes
    ----------
    after : str
        The title of the step before.
    missing : timedelta
        The least that was missing.
    """

    after: str
    missing: timedelta


@dataclass(frozen=True)
class AirNotClear:
    """A step that was done before the air of an open shop was clear.

    Attributes
    ----------
    after : str
        The title of the step that sprayed isocyanate.
    missing : timedelta
        The least that was missing.
    """

    after: str
    missing: timedelta


@dataclass(frozen=True)
class BareTooLong:
    """Bare metal or a wiped panel that is coated too late.

    Attributes
    ----------
    after : str
        The title of the step that laid it bare or wiped it.
    late : timedelta
        How long after it had to be coated.
    again_min : float
        To do it again. [min]
    metal : bool
        Whether it is metal, or else a wipe that has gone stale.
    """

    after: str
    late: timedelta
    again_min: float
    metal: bool


@dataclass(frozen=True)
class GunWaited:
    """A gun that is cleaned late, with paint in it that hardens.

    Attributes
    ----------
    product : str
        The product's name.
    waited : timedelta
        From its last coat until the gun is cleaned.
    """

    product: str
    waited: timedelta


Broken = (
    WindowClosed
    | StepWindowClosed
    | CameTooSoon
    | WaitCutShort
    | AirNotClear
    | BareTooLong
    | GunWaited
)


def window_closed(layer: Layer, climate: Climate, begun: datetime) -> WindowClosed:
    """What is late on a layer.

    Parameters
    ----------
    layer : Layer
        What is coated too late.
    climate : Climate
        How films dry.
    begun : datetime
        When it is coated.

    Returns
    -------
    WindowClosed
    """
    limit = closes_at(layer, climate) or begun
    product = layer.product
    return WindowClosed(
        product.name, begun - limit, limit - layer.end, product.windows.missed
    )
