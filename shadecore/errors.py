"""What can go wrong with what a user gives, one class per mistake.

Each message is one sentence that says what was wrong, where, and what to do.
"""


class ShadecoreError(ValueError):
    """Base of all errors about a user's input; show its text as it stands."""


class ColourError(ShadecoreError):
    """A colour that cannot be read or cannot exist."""


class SpectrumError(ShadecoreError):
    """A reflectance spectrum that cannot be used."""


class ShelfError(ShadecoreError):
    """An undercoat or a shelf that cannot be used."""


class SettingError(ShadecoreError):
    """A film, tolerance or other setting outside its range."""


class TableError(ShadecoreError):
    """A file that cannot be read as a table."""


class CardError(ShadecoreError):
    """Readings of a test card that cannot be right."""


class JobError(ShadecoreError):
    """A product sheet or a job that cannot be planned from."""


class PhotoError(ShadecoreError):
    """A photo, or an area marked on one, that cannot be measured."""
