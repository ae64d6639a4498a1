"""Addresses under which the shop's network reaches this computer; nothing is sent."""

import ipaddress
import socket
from collections.abc import Sequence
from typing import Final

import ifaddr

_NOWHERE: Final = ("198.51.100.1", 9)
"""An address kept for documents (RFC 5737): connecting a datagram socket to it sends no
packet, it only asks the system by which of its own addresses it would."""


def own_addresses() -> tuple[str, ...]:
    """Addresses of this computer on the networks it is on.

    Returns
    -------
    tuple of str
        IPv4, the one that the way out of this network uses first, if there is one;
        empty without a network.
    """
    found = [
        str(each.ip)
        for adapter in ifaddr.get_adapters()
        for each in adapter.ips
        if each.is_IPv4
    ]
    return in_order(found, _first())


def in_order(found: Sequence[str], first: str | None) -> tuple[str, ...]:
    """Addresses worth showing, the likeliest first.

    Parameters
    ----------
    found : sequence of str
        All of the computer's addresses.
    first : str or None
        The one that the way out of the network uses.

    Returns
    -------
    tuple of str
        Without those that no other device reaches.
    """
    useful = [
        each
        for each in dict.fromkeys(found)
        if not (
            ipaddress.ip_address(each).is_loopback
            or ipaddress.ip_address(each).is_link_local
            or ipaddress.ip_address(each).is_unspecified
        )
    ]
    return tuple(sorted(useful, key=lambda each: each != first))


def _first() -> str | None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_NOWHERE)
        except OSError:
            return None
        return str(probe.getsockname()[0])
