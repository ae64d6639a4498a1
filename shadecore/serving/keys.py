"""The device code, and the cookie that shows that a device gave it once."""

import json
import secrets
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from itsdangerous import BadSignature, TimestampSigner

from shadecore.errors import TableError
from shadecore.formats.whole import write_whole
from shadecore.serving.codes import DEVICE_DIGITS, new_code

COOKIE: Final = "shadecore_device"
COOKIE_S: Final = 180 * 24 * 3600
"""How long a device need not give the code again: half a year, our own choice."""
FILE_NAME: Final = "phone-access.json"
_SECRET_BYTES: Final = 32
_SALT: Final = "shadecore device"
_KNOWN: Final = b"known"
_MOST_BYTES: Final = 1000


@dataclass(frozen=True)
class Keys:
    """The device code and the secret that cookies are signed with.

    A new pair shuts out every device that came in by the old one.

    Attributes
    ----------
    code : str
        What a device gives once.
    secret : str
        Never shown.
    """

    code: str
    secret: str

    @classmethod
    def new(cls) -> "Keys":
        """A fresh pair.

        Returns
        -------
        Keys
        """
        return cls(new_code(DEVICE_DIGITS), secrets.token_hex(_SECRET_BYTES))

    def cookie(self) -> str:
        """What a device that gave the code is handed.

        Returns
        -------
        str
        """
        return TimestampSigner(self.secret, salt=_SALT).sign(_KNOWN).decode()

    def knows(self, cookie: str | None) -> bool:
        """Whether a cookie is one that was handed out with this secret.

        Parameters
        ----------
        cookie : str or None
            As the device sends it.

        Returns
        -------
        bool
        """
        if not cookie:
            return False
        signer = TimestampSigner(self.secret, salt=_SALT)
        try:
            return bool(signer.unsign(cookie, max_age=COOKIE_S) == _KNOWN)
        except BadSignature:
            return False


def kept_keys(file: Path) -> Keys:
    """The keys of a file; a fresh pair is kept in it where it holds none.

    Parameters
    ----------
    file : Path
        In the user's own folder. Where it cannot be written the keys last as long as
        the server runs.

    Returns
    -------
    Keys
    """
    try:
        with file.open("rb") as opened:
            read = json.loads(opened.read(_MOST_BYTES))
        keys = Keys(read["code"], read["secret"])
        if _usable(keys):
            return keys
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        pass
    return renewed_keys(file)


def renewed_keys(file: Path) -> Keys:
    """A fresh pair, kept in a file that nobody but its owner may read.

    Parameters
    ----------
    file : Path
        Where.

    Returns
    -------
    Keys
    """
    keys = Keys.new()
    text = json.dumps({"code": keys.code, "secret": keys.secret})
    with suppress(OSError, TableError):
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, text.encode(), private=True)
    return keys


def _usable(keys: Keys) -> bool:
    return (
        isinstance(keys.code, str)
        and isinstance(keys.secret, str)
        and keys.code.isascii()
        and keys.code.isdigit()
        and len(keys.code) == DEVICE_DIGITS
        and len(keys.secret) == 2 * _SECRET_BYTES
    )
