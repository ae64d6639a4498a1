"""Lines that ``python -m validation photo`` prints."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .camera.spectra import LIGHT_GROUPS
from .photo_noise import Scatter
from .photo_report import Case, PickScore, Together, errors

BoolArray = NDArray[np.bool_]

HEAD = (
    "case                    shots  refused  dE00 mean, median, 95 %   "
    "inside L*, a*, b*, jointly"
)
PICK_HEAD = (
    "case                    pick as by spectrum, by Lab   coats more: 0, <= 1   "
    "stable: share, as by spectrum, by Lab, 0 more"
)


def error_lines(name: str, cases: list[Case]) -> list[str]:
    """Errors of a case, over all lights and by group."""
    found = errors(cases)
    rows = [(name, np.ones(len(found.group), dtype=bool))]
    rows += [(f"  {group}", found.group == group) for group in LIGHT_GROUPS]
    lines = []
    for label, chosen in rows:
        if not chosen.any():
            lines.append(f"{label:<22}  none read")
            continue
        difference, inside = found.difference[chosen], found.inside[chosen]
        group = label.strip() if label.startswith(" ") else None
        shots = [each for each in cases if group in (None, each.shot.light_group)]
        lines.append(
            f"{label:<22}  {len(shots):5d}  {len(shots) - chosen.sum():7d}  "
            f"{difference.mean():9.2f}, {np.median(difference):6.2f}, "
            f"{np.percentile(difference, 95):4.1f}   "
            + ", ".join(f"{share:5.1%}" for share in inside.mean(axis=0))
            + f", {found.joint[chosen].mean():5.1%}"
        )
    return lines


def pick_line(name: str, score: PickScore) -> str:
    """Picks of a case."""
    stable = score.stable
    return (
        f"{name:<22}  {score.equal_spectrum.mean():19.1%}, "
        f"{score.equal_lab.mean():6.1%}   {(score.regret <= 0).mean():14.1%}, "
        f"{(score.regret <= 1).mean():4.1%}   {stable.mean():13.1%}, "
        f"{_share(score.equal_spectrum[stable])}, {_share(score.equal_lab[stable])}, "
        f"{_share(score.regret[stable] <= 0)}"
    )


def found_line(cases: list[Case]) -> str:
    """How often the chart was found, and how well."""
    error = np.array([each.corner_error for each in cases])
    seen = np.isfinite(error)
    return (
        f"chart found in {seen.mean():.1%}; its corners off by "
        f"{np.median(error[seen]):.2%} of its long side (median), "
        f"{np.percentile(error[seen], 95):.2%} (95 %), "
        f"{(error[seen] > 0.05).mean():.1%} of them by more than 5 %"
    )


def together_line(name: str, good: Together, one_wrong: Together) -> str:
    """Several photos of a case."""
    return (
        f"{name:<22}  dE00 of one {good.single.mean():.2f}, of four "
        f"{good.joined.mean():.2f} (jointly inside {good.joint.mean():.1%}); a good "
        f"one accused in {good.accused.mean():.1%} of {good.accused.size}; the wrong "
        f"one named in {one_wrong.named.mean():.1%} of {one_wrong.named.size}, a good "
        f"one instead in {one_wrong.accused.mean():.1%}"
    )


NOISE_HEAD = (
    "case                    scenes  L*, a*, b* scatter by noise   told                "
    "  told over seen (median)"
)


def scatter_line(kind: str, found: Scatter) -> str:
    """Root mean squares over the scenes, and how the two compare scene by scene."""
    seen, told = (np.sqrt(np.mean(each**2, axis=0)) for each in found)
    ratio = np.median(found.told / found.seen, axis=0)
    return (
        f"{kind:<22}  {len(found.seen):6d}  "
        f"{', '.join(f'{each:.3f}' for each in seen)}   "
        f"{', '.join(f'{each:.3f}' for each in told)}   "
        f"{', '.join(f'{each:.2f}' for each in ratio)}"
    )


def _share(chosen: BoolArray) -> str:
    return f"{chosen.mean():5.1%}" if chosen.size else "    -"
