"""What a job has to paint, and where that cannot be."""

from shadecore.errors import JobError
from shadecore.job.kinds import OPEN_SHOP
from shadecore.job.request import JobRequest
from shadecore.products.materials import area_of


def area_to_paint(request: JobRequest) -> float:
    """Area of a job.

    Parameters
    ----------
    request : JobRequest
        The job.

    Returns
    -------
    float
        Above 0. [m2]

    Raises
    ------
    JobError
        If there is nothing to paint, or it is to be baked in an open shop.
    """
    area = area_of(dict(request.panels)) + request.area_m2
    if area <= 0.0:
        message = "There is nothing to paint; give panels or an area in m2."
        raise JobError(message)
    if request.place == OPEN_SHOP and request.cure == "bake":
        message = (
            "In an open shop nothing is baked; take lamp or air as the cure, or spray "
            "in the booth."
        )
        raise JobError(message)
    return area
