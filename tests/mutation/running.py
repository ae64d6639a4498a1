"""Tests run on a changed module, in a forked process that has loaded the libraries."""

from __future__ import annotations

import importlib
import importlib.abc
import importlib.machinery
import os
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from types import CodeType, ModuleType

import pytest

from .mapping import ROOT

_LIBRARIES = (
    "numpy",
    "scipy.stats",
    "scipy.ndimage",
    "scipy.interpolate",
    "skimage.color",
    "skimage.transform",
    "skimage.data",
    "skimage.io",
    "colour",
    "imagecodecs",
    "tifffile",
    "PIL.Image",
)
"""Loaded once, because loading them takes longer than most tests. Plugins of pytest are
not among them: it warns of those that were loaded before it."""
_POLL_S = 0.05

CAUGHT, SURVIVED, TIMEOUT = "caught", "SURVIVED", "timeout"


def load_libraries() -> None:
    """Load what all tests need, but nothing of shadecore."""
    os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
    for name in _LIBRARIES:
        importlib.import_module(name)


def run(
    tests: Sequence[Path], limit_s: float, path: Path | None = None, source: str = ""
) -> tuple[str, float]:
    """Run test files, on a changed module if one is given.

    Parameters
    ----------
    tests : sequence of Path
        Test files.
    limit_s : float
        Time after which the tests are ended: a change may let a loop run for ever. [s]
    path : Path, optional
        File of the changed module.
    source : str
        Its changed source.

    Returns
    -------
    outcome : str
        ``CAUGHT`` where a test failed, ``SURVIVED`` where all passed, or ``TIMEOUT``.
    taken_s : float
        Time taken. [s]
    """
    start = time.monotonic()
    child = os.fork()
    if child == 0:
        os._exit(_in_child(tests, path, source))
    while time.monotonic() - start < limit_s:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            passed = os.waitstatus_to_exitcode(status) == 0
            return (SURVIVED if passed else CAUGHT), time.monotonic() - start
        time.sleep(_POLL_S)
    os.kill(child, 9)
    os.waitpid(child, 0)
    return TIMEOUT, time.monotonic() - start


def _in_child(tests: Sequence[Path], path: Path | None, source: str) -> int:
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    if path is not None:
        sys.meta_path.insert(0, _Changed(path, source))
    options = ["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=0"]
    options += ["-p", "mutation.quick", "--rootdir", str(ROOT)]
    try:
        return int(pytest.main([*options, *map(str, tests)]))
    except BaseException:
        # Whatever error the change led to, it was noticed.
        return 1


class _Changed(importlib.abc.MetaPathFinder, importlib.machinery.SourceFileLoader):
    """Imports one module from changed source."""

    def __init__(self, path: Path, source: str) -> None:
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        super().__init__(name, str(path))
        self._source = source

    def find_spec(
        self,
        fullname: str,
        path: Sequence[str] | None,
        target: ModuleType | None = None,
    ) -> importlib.machinery.ModuleSpec | None:
        """Spec of the changed module; None for any other."""
        del path, target
        if fullname != self.name:
            return None
        return importlib.machinery.ModuleSpec(fullname, self, origin=self.path)

    def get_code(self, fullname: str) -> CodeType:
        """Compile the changed source."""
        del fullname
        return compile(self._source, self.path, "exec")
