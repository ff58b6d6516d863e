"""Linear algebra on one thread, so that a stated figure has the same bits however many processors there are.

A product of matrices that is shared out among threads is summed in another order. What is stated is small work, so
that one thread loses nothing; Monte Carlo trials have threads of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from threading import Lock
from typing import Any

_lock = Lock()
_inside = 0
_limit: Any = None


@contextmanager
def one_blas_thread() -> Iterator[None]:
    """While anything is inside, numpy's linear algebra runs on one thread; the last one out sets it back."""
    global _inside, _limit  # noqa: PLW0603 - the one linear algebra of the process
    with _lock:
        if _inside == 0:
            _limit = _controller().limit(limits=1, user_api="blas")
        _inside += 1
    try:
        yield
    finally:
        with _lock:
            _inside -= 1
            if _inside == 0:
                _limit.restore_original_limits()


@cache
def _controller() -> Any:
    import numpy as np
    from threadpoolctl import ThreadpoolController

    np.linalg.norm(np.ones(2))  # the library is loaded before it is looked for
    return ThreadpoolController()
