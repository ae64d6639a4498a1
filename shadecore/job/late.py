"""What a missed window is called in a plan."""

from datetime import datetime, timedelta

from shadecore.formats.echo import brief
from shadecore.job.climate import Climate
from shadecore.job.windows import REMEDIES, Layer, closes_at


def late_sentence(layer: Layer, climate: Climate, begun: datetime) -> str:
    """What is late on a layer, and what that costs.

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
    str
    """
    limit = closes_at(layer, climate) or begun
    remedy = REMEDIES[layer.product.windows.missed]
    return (
        f"Starts {spell(begun - limit)} after the window of "
        f"{brief(layer.product.name)} closed ({spell(limit - layer.end)}): first "
        f"{remedy.text} (about {remedy.work_min:g} min)."
    )


def spell(time: timedelta) -> str:
    """Time in words, minutes rounded up.

    Parameters
    ----------
    time : timedelta
        Any.

    Returns
    -------
    str
        Such as ``1 h 20 min``.
    """
    hours, rest = divmod(-(-time // timedelta(minutes=1)), 60)
    return " ".join(
        f"{count} {unit}" for count, unit in ((hours, "h"), (rest, "min")) if count
    )
