"""shadecore picks the undercoat shade under a refinish topcoat.

The few names here are the library; everything else is reached by its module.

Examples
--------
>>> import shadecore
>>> answer = shadecore.pick(shadecore.parse_topcoat("45 60 35"), shadecore.demo_shelf())
>>> answer.recommended.undercoat.name
'White N 9'
"""

from shadecore.coats.answer import Answer, Outlook, Picks
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.settings import Settings
from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import Topcoat, parse_topcoat, topcoat_from_spectrum
from shadecore.errors import ShadecoreError
from shadecore.film.build import CoatFilm, coat_film
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Undercoat, undercoat
from shadecore.undercoats.shelf_table import demo_shelf, read_shelf

__all__ = [
    "Answer",
    "CoatFilm",
    "Condition",
    "Outlook",
    "Picks",
    "Settings",
    "ShadecoreError",
    "Topcoat",
    "Undercoat",
    "coat_film",
    "demo_shelf",
    "parse_topcoat",
    "pick",
    "pick_many",
    "read_shelf",
    "shelf_blends",
    "topcoat_from_spectrum",
    "undercoat",
]
__version__ = "0.1.0"
