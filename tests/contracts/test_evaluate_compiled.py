"""The numba switch: same bits in both forms, no compiler loaded for little work, never in the way."""

from __future__ import annotations

import importlib
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from waywright import compiled
from waywright.evaluate.minimum_zone import width_by_cuts, zone, zone_and_extremes
from waywright.uncertainty import profiles
from waywright.uncertainty.draws import normal, standard_normals, stream_start


def run(code: str, **environment: str) -> str:
    """Run code in a fresh process and return what it prints."""
    import os

    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=os.environ | environment, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def same_bits(a: object, b: object) -> bool:
    return np.asarray(a, dtype=np.float64).tobytes() == np.asarray(b, dtype=np.float64).tobytes()


def profile(seed: int, stations: int = 30) -> tuple[np.ndarray, np.ndarray]:
    random = np.random.default_rng(seed)
    return np.cumsum(random.uniform(1.0, 300.0, stations)), random.normal(size=stations)


def test_zone_has_the_same_bits_compiled() -> None:
    assert zone.compiled is not None
    assert zone_and_extremes.compiled is not None
    assert width_by_cuts.compiled is not None
    for seed in range(200):
        x, y = profile(seed, 3 + seed % 50)
        up, low = np.empty(x.size, np.int64), np.empty(x.size, np.int64)
        assert same_bits(zone.plain(x, y, up, low), zone.compiled(x, y, up, low))
        assert same_bits(zone_and_extremes.plain(x, y, 700.0), zone_and_extremes.compiled(x, y, 700.0))
        assert same_bits(width_by_cuts.plain(x, y), width_by_cuts.compiled(x, y))


def test_draws_have_the_same_bits_compiled() -> None:
    """5000 draws hold some 60 from the edges of the layers and one or more from the tail."""
    start = stream_start(6)
    with np.errstate(over="ignore"):
        plain = [normal.plain(start, np.uint64(i)) for i in range(5000)]
    assert max(abs(v) for v in plain) > 3.6541528853610088
    assert normal.compiled is not None
    assert same_bits(plain, [normal.compiled(start, np.uint64(i)) for i in range(5000)])
    assert same_bits(plain, standard_normals(5000, seed=6))


@pytest.mark.parametrize("kind", [0, 1, 2])
def test_noise_profiles_have_the_same_bits_compiled(kind: int) -> None:
    kernel, start, x = profiles._noise_values, stream_start(3), np.arange(-5.0, 6.0)
    out = np.empty((2, 100))
    with np.errstate(over="ignore"):
        kernel.plain(x, kind, start, 11, out[0])
    assert kernel.compiled is not None
    kernel.compiled(x, kind, start, 11, out[1])
    assert same_bits(out[0], out[1])


def test_importing_the_evaluation_loads_no_compiler() -> None:
    code = "import sys, waywright.evaluate, waywright.uncertainty.profiles; print('numba' in sys.modules)"
    assert run(code) == "False"


FEW_THEN_MANY = """
import sys, numpy as np
from waywright.evaluate import straightness
x = np.arange(30.0); y = np.random.default_rng(1).normal(size=30)
for _ in range(20):
    few = straightness(x, y, "minimum-zone").value_um
print("numba" in sys.modules)
many = np.repeat(y[:, None], 20_000, axis=1)
print(bool(np.allclose(straightness(x, many, "minimum-zone").value_um, few, rtol=1e-12)), "numba" in sys.modules)
"""


def test_little_work_is_interpreted_and_much_is_compiled() -> None:
    assert run(FEW_THEN_MANY).split() == ["False", "True", "True"]


def test_a_broken_numba_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "numba.py").write_text("raise ImportError('made for another numpy')\n")
    code = """
import numpy as np
from waywright.evaluate import straightness
from waywright.evaluate.minimum_zone import zone
from waywright.uncertainty import noise_values
y = np.array([0.0, 2.0, 7.0, 3.0, 1.0, -3.0, 0.0])
print(zone.compiled, round(straightness(np.arange(7.0), y, "minimum-zone").value_um, 12))
print(noise_values(np.arange(5.0), "minimum-zone", 3, seed=1).tolist())
"""
    words = run(code, PYTHONPATH=str(tmp_path)).split(maxsplit=2)
    assert words[:2] == ["None", "8.2"]
    assert words[2] == str(profiles.noise_values(np.arange(5.0), "minimum-zone", 3, seed=1).tolist())


def test_a_cache_folder_that_cannot_be_written_is_passed_over(tmp_path: Path) -> None:
    blocked = tmp_path / "a-file"
    blocked.write_text("")
    code = """
import numpy as np
from waywright.compiled import _cache_folder
from waywright.evaluate.minimum_zone import width_by_cuts
print(_cache_folder("x"), width_by_cuts.compiled(np.arange(3.0), np.array([0.0, 1.0, 0.0])))
"""
    place = str(blocked / "cache")
    assert run(code, XDG_CACHE_HOME=place, LOCALAPPDATA=place, HOME=place) == "None 1.0"


@pytest.fixture
def two_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], ModuleType]:
    """A kernel in one file that calls a kernel in another, whose formula can be changed."""
    monkeypatch.syspath_prepend(str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))

    def write(formula: str) -> ModuleType:
        callee = "from waywright.compiled import kernel\nFACTOR = 2.0\n@kernel('float64(float64)')\ndef inner(v):\n"
        caller = "from kernel_inner import inner\nfrom waywright.compiled import kernel\n"
        caller += "@kernel('float64(float64)')\ndef outer(v):\n    return inner(v) + 1.0\n"
        (tmp_path / "kernel_inner.py").write_text(f"{callee}    return {formula}\n")
        (tmp_path / "kernel_outer.py").write_text(caller)
        for name in ("kernel_inner", "kernel_outer"):
            sys.modules.pop(name, None)
        importlib.invalidate_caches()
        return importlib.import_module("kernel_outer")

    return write


def test_a_changed_callee_in_another_file_is_noticed(two_files: Callable[[str], ModuleType]) -> None:
    first = two_files("v * FACTOR").outer
    before = first.fingerprint()
    assert first.compiled(3.0) == first.plain(3.0) == 7.0
    second = two_files("v * FACTOR * 10.0").outer
    assert second.fingerprint() != before
    assert first.fingerprint() == before  # what is loaded counts, not what the file has become
    assert second.compiled(3.0) == second.plain(3.0) == 61.0


def test_a_constant_is_part_of_the_fingerprint(two_files: Callable[[str], ModuleType]) -> None:
    outer = two_files("v * FACTOR").outer
    before = outer.fingerprint()
    sys.modules["kernel_inner"].FACTOR = 3.0  # type: ignore[attr-defined]
    assert outer.fingerprint() != before


def test_compiled_code_is_kept_on_disk_under_the_version(tmp_path: Path) -> None:
    code = (
        "from waywright.evaluate.minimum_zone import width_by_cuts as k; print(k.compiled is not None, k.fingerprint())"
    )
    place = str(tmp_path)
    ready, fingerprint = run(code, XDG_CACHE_HOME=place, LOCALAPPDATA=place, HOME=place).split()
    assert ready == "True"
    (folder,) = {path.parent.parent for path in tmp_path.rglob("*.nbi")}
    assert folder.name.endswith(fingerprint)


def test_numba_keeps_its_own_setting() -> None:
    import numba

    before = numba.core.config.CACHE_DIR
    with compiled._caching_in(Path("elsewhere")):
        assert numba.core.config.CACHE_DIR == "elsewhere"
    assert before == numba.core.config.CACHE_DIR
