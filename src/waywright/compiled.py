"""The numba switch, nothing else.

A kernel is a plain Python function on floats and arrays, marked with :func:`kernel`. It has two forms with the
same bits: the function itself, interpreted, and its twin compiled by numba (no fast-math, no contraction).
Kernels may call kernels, in any file.

Which form runs is a matter of cost. Loading the compiler takes a second or so, which a handful of profiles
never earns back. So :meth:`Kernel.choose` adds up the points worked on by interpreting, in the whole process,
and goes over to the compiled form when interpreting as much again would cost about what loading does, or at
once when numba is loaded anyway. Without numba, or with one that does not work, the plain form runs.

Compiled code is kept on disk in the user's cache folder. Numba does not notice a changed callee in another file,
therefore the folder's name holds the package version and a hash of all the code and constants behind a kernel.
Where that folder cannot be written, the code is compiled anew in each process.
"""

from __future__ import annotations

import hashlib
import logging
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import RLock
from types import FunctionType
from typing import Any, Generic, ParamSpec, TypeVar, cast

P = ParamSpec("P")
R = TypeVar("R")

POINTS_BEFORE_COMPILING = 300_000
"""Points interpreted before the compiler is loaded: 2 to 3 us each against about a second (bench/minimum_zone.py)."""

_log = logging.getLogger(__name__)
_lock = RLock()
_interpreted_points = 0
_numba_works = True


def kernel(signature: str) -> Callable[[Callable[P, R]], Kernel[P, R]]:
    """Mark a function as a kernel.

    ``signature`` is numba's text form. Beside numba's type names it may use ``vector`` and ``table``: arrays of
    one and two axes in C order that the kernel only reads.
    """

    def mark(function: Callable[P, R]) -> Kernel[P, R]:
        return Kernel(cast(FunctionType, function), signature)

    return mark


class Kernel(Generic[P, R]):
    """A function with an interpreted and a compiled form."""

    def __init__(self, function: FunctionType, signature: str) -> None:
        self.function = function
        self.signature = signature
        self.__doc__ = function.__doc__
        self.__name__ = function.__name__
        self._plain: Callable[P, R] | None = None
        self._compiled: Callable[P, R] | None = None

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Run the plain form."""
        return self.plain(*args, **kwargs)

    @property
    def plain(self) -> Callable[P, R]:
        """The interpreted form; the kernels it calls are interpreted too, without detour."""
        if self._plain is None:
            self._plain = self._linked(lambda callee: callee.plain)
        return self._plain

    @property
    def compiled(self) -> Callable[P, R] | None:
        """The compiled form, made or loaded on the first use; ``None`` where numba is missing or does not work."""
        if self._compiled is None and _numba_works:
            with _lock:
                self._compiled = self._compiled or self._compile()
        return self._compiled

    def choose(self, points: int) -> Callable[P, R]:
        """The form to use for work on ``points`` more points."""
        if self._compiled is not None:
            return self._compiled
        return (self.compiled if _compiling_pays(points) else None) or self.plain

    def family(self) -> list[Kernel[Any, Any]]:
        """This kernel and all it calls, directly or through others."""
        found: list[Kernel[Any, Any]] = [self]
        for member in found:
            found.extend(callee for callee in member._callees().values() if callee not in found)
        return found

    def fingerprint(self) -> str:
        """Hash of all that the compiled form is made from: code, signatures and constants of the family.

        It is the code as loaded, not the file, which may have been edited since.
        """
        digest = hashlib.sha256()
        for member in self.family():
            code = member.function.__code__
            words = (member.__name__, member.signature, code.co_consts, code.co_names, code.co_varnames)
            digest.update(repr(words).encode() + code.co_code)
            for name, value in sorted(member._constants().items()):
                digest.update(f"{name}={value!r}".encode())
                digest.update(value.tobytes() if hasattr(value, "tobytes") else b"")
        return digest.hexdigest()[:16]

    def _globals_used(self) -> dict[str, Any]:
        known = self.function.__globals__
        return {name: known[name] for name in self.function.__code__.co_names if name in known}

    def _callees(self) -> dict[str, Kernel[Any, Any]]:
        used = self._globals_used()
        return {name: value for name, value in used.items() if isinstance(value, Kernel) and value is not self}

    def _constants(self) -> dict[str, Any]:
        used = self._globals_used()
        return {name: value for name, value in used.items() if _is_constant(value)}

    def _linked(self, form: Callable[[Kernel[Any, Any]], Callable[..., Any]]) -> Callable[P, R]:
        """The function with the kernels it calls replaced by one of their forms."""
        f = self.function
        replaced = f.__globals__ | {name: form(callee) for name, callee in self._callees().items()}
        twin = FunctionType(f.__code__, replaced, f.__name__, f.__defaults__, f.__closure__)
        twin.__qualname__, twin.__module__, twin.__doc__ = f.__qualname__, f.__module__, f.__doc__
        return cast(Callable[P, R], twin)

    def _compile(self) -> Callable[P, R] | None:
        global _numba_works  # noqa: PLW0603 - the one compiler of the process
        try:
            folder = _cache_folder(self.fingerprint())
            try:
                return self._compile_into(folder)
            except Exception:
                if folder is None:
                    raise
                # A damaged or full cache must not cost the result.
                return self._compile_into(None)
        except Exception:
            _log.info("numba cannot be used; kernels are interpreted", exc_info=True)
            _numba_works = False
            return None

    def _compile_into(self, folder: Path | None) -> Callable[P, R]:
        import numba

        def dispatcher(member: Kernel[Any, Any]) -> Any:
            linked = member._linked(dispatcher)
            if member is not self:  # without types: compiled only if this kernel is not found on the disk
                return numba.njit(nogil=True, error_model="numpy")(linked)
            types, on_disk = self._types(), folder is not None
            return numba.njit(types, nogil=True, error_model="numpy", cache=on_disk)(linked)

        with _caching_in(folder):
            return cast(Callable[P, R], dispatcher(self))

    def _types(self) -> Any:
        from numba import types

        names = dict(vars(types))
        for ndim, name in ((1, "vector"), (2, "table")):
            names[name] = types.Array(types.float64, ndim, "C", readonly=True)
        return eval(self.signature, {}, names)


def _is_constant(value: object) -> bool:
    """A number or an array; numba builds it into the code."""
    return isinstance(value, (int, float)) or (hasattr(value, "dtype") and not isinstance(value, type))


def _compiling_pays(points: int) -> bool:
    global _interpreted_points  # noqa: PLW0603 - the account of the process
    if not _numba_works:
        return False
    _interpreted_points += points
    return _interpreted_points >= POINTS_BEFORE_COMPILING or "numba" in sys.modules


def _cache_folder(fingerprint: str) -> Path | None:
    """A folder for the compiled code, or ``None`` where none can be written."""
    from importlib.metadata import version
    from tempfile import TemporaryFile

    from platformdirs import user_cache_path

    try:
        folder = user_cache_path("waywright") / "kernels" / f"{version('waywright')}-{fingerprint}"
        folder.mkdir(parents=True, exist_ok=True)
        with TemporaryFile(dir=folder):
            return folder
    except (OSError, RuntimeError):
        return None


@contextmanager
def _caching_in(folder: Path | None) -> Iterator[None]:
    """Let numba make its caches in ``folder``; the setting of others in this process comes back."""
    import numba

    config: Any = numba.core.config
    before = config.CACHE_DIR
    if folder is not None:
        config.CACHE_DIR = str(folder)
    try:
        yield
    finally:
        config.CACHE_DIR = before
