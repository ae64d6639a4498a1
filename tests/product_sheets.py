"""The demo product sheet as text, and what is said of one that cannot be read."""

import re

import pytest

from shadecore.datafiles import data_file
from shadecore.errors import JobError
from shadecore.products.product import Product
from shadecore.products.sheet_file import demo_sheet, parse_sheet

TEXT = data_file("product-line.toml").read_text("utf-8")
LINES = TEXT.split("\n")


def kind(name: str) -> Product:
    return demo_sheet().of_kind(name)


def refused(text: str) -> str:
    with pytest.raises(JobError) as caught:
        parse_sheet(text, "mine.toml")
    message = str(caught.value)
    assert message.startswith("mine.toml, line ")
    assert message.endswith(".")
    assert "\n" not in message
    return message


def without(name: str) -> str:
    """The demo line without a product."""
    return re.sub(rf"\[+product\.{name}\b.*\]\n(?:[a-z].*\n)+", "", TEXT)
