"""Compiling the inner loops, with a cache that is writable wherever the program is installed.

The compiled code is kept in a folder of the user's cache, named after the text of the loops themselves:
a changed loop never meets a stale cache. Without numba the same loops run uncompiled, slowly.
"""

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

_F = TypeVar("_F", bound=Callable[..., Any])
_LOOPS = ("compiled.py", "state.py", "placing.py", "insertion.py", "sequence.py", "moves.py", "anneal.py")


def _loops_stamp() -> str:
    stamp = hashlib.sha256()
    here = Path(__file__).parent
    for name in _LOOPS:
        path = here / name
        if path.exists():
            stamp.update(path.read_bytes())
    return stamp.hexdigest()[:16]


def _writable(folder: Path) -> bool:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return True
    except OSError:
        return False


def cache_folder() -> Path:
    """Where compiled loops are kept: ``PURFLING_CACHE``, else the user's cache, else the scratch folder."""
    asked = os.environ.get("PURFLING_CACHE")
    places = [Path(asked)] if asked else []
    base = os.environ.get("XDG_CACHE_HOME")
    if base:
        places.append(Path(base) / "purfling")
    elif os.environ.get("HOME"):
        places.append(Path(os.environ["HOME"]) / ".cache" / "purfling")
    user = getattr(os, "getuid", lambda: 0)()
    places.append(Path(tempfile.gettempdir()) / f"purfling-{user}")
    stamp = _loops_stamp()
    for place in places:
        folder = place / f"loops-{stamp}"
        if _writable(folder):
            return folder
    return Path(tempfile.mkdtemp(prefix="purfling-"))


def _maker() -> Callable[[Any], Any]:
    try:
        import numba
        from numba.core import config
    except ImportError:
        return lambda loop: loop
    before = config.CACHE_DIR
    if not before:
        config.CACHE_DIR = str(cache_folder())
    made: Callable[[Any], Any] = numba.njit(cache=True, nogil=True, error_model="numpy", _nrt=False)
    return made


_MAKE = _maker()


def compiled(loop: _F) -> _F:
    """Compile a loop at its first call (decorator); the function itself where numba is not installed."""
    made: _F = _MAKE(loop)
    return made
