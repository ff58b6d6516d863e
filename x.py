#!/usr/bin/env python3
"""Set up and run Waywright with nothing but Python.

python3 x.py demo            set up, then run the main job on an invented machine
python3 x.py test [...]      set up with the test tools, then run the tests (pytest arguments follow)
python3 x.py run ...         set up, then any waywright command
python3 x.py add opcua       bring an optional part
python3 x.py bundle [FOLDER] make a folder that installs without network, from a USB stick for example
python3 x.py check           ruff, mypy --strict, layer contracts
python3 x.py docs [...]      build the documentation (mkdocs arguments follow)
python3 x.py lock [...]      resolve the libraries anew (--upgrade for newer ones)

Everything goes into ``.venv`` beside this file; every download is checked against the fingerprints in
the ``requirements*.lock`` files. The second run starts at once: a stamp, written last, names the
state of those files that ``.venv`` was made from.

Only the standard library, and only what Python 3.6 can parse: too old a Python shall read a sentence,
not a traceback.
"""

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

OLDEST, NEWEST = (3, 11), (3, 14)  # ``lock`` proves that every library has a wheel for all of these
PLATFORMS = ("x86_64-unknown-linux-gnu", "aarch64-unknown-linux-gnu", "x86_64-pc-windows-msvc", "macos")
OLDEST_UV = (0, 9)

HERE = os.path.dirname(os.path.abspath(__file__))
VENV = os.path.join(HERE, ".venv")
BIN = os.path.join(VENV, "Scripts" if os.name == "nt" else "bin")
EXE = ".exe" if os.name == "nt" else ""
PYTHON = os.path.join(BIN, "python" + EXE)
STAMP = os.path.join(VENV, "waywright-setup.json")
UNFINISHED = os.path.join(VENV, "waywright-setup-unfinished.json")
LOCK = os.path.join(VENV, "waywright-setup.lock")
WHEELS = os.path.join(HERE, "wheels")  # only in a folder made by ``bundle``
BUNDLE = os.path.join(HERE, "bundle.json")


class Stop(Exception):
    """One sentence for the person at the keyboard; ``harmless`` if ``.venv`` is as it was before."""

    def __init__(self, sentence: str, harmless: bool = False) -> None:
        super().__init__(sentence)
        self.harmless = harmless


# ------------------------------------------------------------------------------ what the computer has


def check_python(version: "tuple[int, int]") -> None:
    """Stop on a Python that is older or newer than the locked libraries know."""
    have, oldest, newest = ("{}.{}".format(*pair) for pair in (version, OLDEST, NEWEST))
    if version < OLDEST:
        raise Stop(
            f"Waywright needs Python {oldest} to {newest} and this is Python {have}: install a newer one and "
            "start x.py with that."
        )
    if version > NEWEST:
        raise Stop(
            f"Python {have} is newer than the libraries locked here know (Python {oldest} to {newest}): install "
            "one of those beside it and start x.py with that."
        )


def check_venv_module() -> None:
    """Stop where the system's Python lacks the means to make an environment (Debian splits it off)."""
    try:
        import venv  # noqa: F401

        if not uv_on_path():
            import ensurepip  # noqa: F401
    except ImportError:
        package = "python{}.{}-venv".format(*sys.version_info[:2])
        raise Stop(
            f"This Python lacks its venv part: install it (Debian, Ubuntu: `sudo apt install {package}`; "
            "elsewhere: the full Python installer), then run the same command again."
        ) from None


def check_bundle() -> None:
    """Stop in a bundle that is incomplete or was made for another Python or kind of computer."""
    if not os.path.isdir(WHEELS):
        return
    made_for = read_json(BUNDLE)
    if not made_for:
        raise Stop("This folder is incomplete, its making was interrupted: make it again with `x.py bundle`.")
    here = this_computer()
    if made_for != here:
        raise Stop(
            "This folder holds the libraries for Python {} on {}, and this is Python {} on {}: start x.py with the "
            "former, or make the folder anew on a computer like this one.".format(
                made_for["python"], made_for["platform"], here["python"], here["platform"]
            )
        )


def this_computer() -> "dict[str, str]":
    """What compiled libraries depend on."""
    import sysconfig

    return {"python": "{}.{}".format(*sys.version_info[:2]), "platform": sysconfig.get_platform()}


def lock_file(part: str) -> str:
    """The locked list of a part: ``runtime``, ``dev``, ``uv``, or an optional part's name."""
    name = "requirements.lock" if part == "runtime" else f"requirements-{part}.lock"
    return os.path.join(HERE, name)


def optional_parts() -> "list[str]":
    """Every part that ``add`` can bring."""
    names = [name[13:-5] for name in os.listdir(HERE) if name.startswith("requirements-") and name.endswith(".lock")]
    return sorted(set(names) - {"dev", "uv"})


# ------------------------------------------------------------------------------------------- set-up


def ensure(*parts: str) -> None:
    """Make ``.venv`` hold these parts and all that were added before; at once if it does already."""
    if is_ready(parts):
        return
    check_bundle()
    check_venv_module()
    for part in parts:
        if not os.path.exists(lock_file(part)):
            raise Stop(
                "This folder was made to install without network and holds no tools for testing: use the full "
                "project for that."
            )
    with OneAtATime():
        if not is_ready(parts):
            set_up({"runtime"} | set(parts) | remembered())


def is_ready(parts: "tuple[str, ...]") -> bool:
    """Whether the stamp tells of these parts, these lock files and this place."""
    stamp = read_json(STAMP)
    return stamp == state(stamp.get("parts", [])) and set(parts) <= set(stamp["parts"]) and os.path.exists(PYTHON)


def remembered() -> "set[str]":
    """The parts brought so far that still exist."""
    parts = (read_json(STAMP) or read_json(UNFINISHED)).get("parts", [])
    return {part for part in parts if os.path.exists(lock_file(part))}


def state(parts: "list[str]") -> "dict[str, object]":
    """What a finished ``.venv`` was made from."""
    import hashlib

    digest = hashlib.sha256()
    for name in sorted(os.listdir(HERE)):
        if name == "pyproject.toml" or (name.startswith("requirements") and name.endswith(".lock")):
            with open(os.path.join(HERE, name), "rb") as file:
                digest.update(name.encode() + b"\0" + file.read().replace(b"\r\n", b"\n") + b"\0")
    return {"parts": sorted(parts), "made_from": digest.hexdigest(), "place": HERE}


def set_up(parts: "set[str]") -> None:
    """Fill ``.venv``; a stop before anything was changed leaves the former one usable."""
    former = read_json(STAMP)
    whole = former.get("place") == HERE and os.path.exists(PYTHON)
    say("Setting Waywright up in .venv (once; later runs start at once) ...")
    if whole:
        os.replace(STAMP, UNFINISHED)
    else:
        make_environment(parts)
    try:
        install(parts)
    except Stop as stop:
        if whole and stop.harmless:
            os.replace(UNFINISHED, STAMP)
        raise
    write_json(STAMP, state(sorted(parts)))
    os.remove(UNFINISHED)


def make_environment(parts: "set[str]") -> None:
    """An empty ``.venv``, with pip where that has to fetch uv; whatever an interrupted set-up left there goes."""
    import shutil
    import subprocess
    import venv

    for entry in os.scandir(VENV):
        if entry.path == LOCK:
            continue
        if entry.is_dir(follow_symlinks=False):
            shutil.rmtree(entry.path)
        else:
            os.remove(entry.path)
    write_json(UNFINISHED, {"parts": sorted(parts)})
    try:
        venv.EnvBuilder(symlinks=os.name != "nt", with_pip=not uv_on_path()).create(VENV)
    except (OSError, subprocess.CalledProcessError) as error:
        raise Stop(f"An environment could not be made in {VENV}: {error}.") from None


def install(parts: "set[str]") -> None:
    """uv by fingerprint, the libraries by fingerprint, the project itself, compiled modules."""
    install_uv()
    wanted = ["dev"] if "dev" in parts else sorted(parts)  # the development list holds every other part
    say("Fetching and unpacking the libraries ...")
    lists = [word for part in wanted for word in ("-r", lock_file(part))]
    call([own_uv(), "pip", "install", "--python", PYTHON, *checked(), *lists], "libraries")
    project = ["--no-deps", "--no-build-isolation", "--no-index", "-e", HERE]
    call([own_uv(), "pip", "install", "--python", PYTHON, *project], "project")
    compile_modules()


def compile_modules() -> None:
    """Compile once, because a shell may forbid Python to do it later (PYTHONDONTWRITEBYTECODE).

    The libraries' own tests are never imported. A file that cannot be compiled is none of ours, so it does not count.
    """
    skipped = r"[/\\](tests?|pip)[/\\]"  # of relative paths: the project itself may lie in a folder of that name
    folders = [os.path.join(".venv", "Lib" if os.name == "nt" else "lib"), "src"]
    call([PYTHON, "-m", "compileall", "-q", "-j", "0", "-x", skipped, *folders], "project", must_succeed=False)


def install_uv() -> None:
    """The locked uv, fetched by a uv on PATH if that is new enough, else by the environment's pip."""
    outside = uv_on_path()
    if outside:
        installer = [outside, "pip", "install", "--python", PYTHON]
    else:
        installer = [PYTHON, "-I", "-m", "pip", "install", "--no-deps", "--retries", "2", "--no-input"]
    call([*installer, *checked(), "-r", lock_file("uv")], "installer")


def own_uv() -> str:
    """The uv inside ``.venv``."""
    return os.path.join(BIN, "uv" + EXE)


def uv_on_path() -> "str | None":
    """A uv outside that is new enough to fetch the locked one."""
    import shutil

    program = shutil.which("uv")
    return program if program and uv_version(program) >= OLDEST_UV else None


def uv_version(program: str) -> "tuple[int, ...]":
    """(0, 9) for uv 0.9.7; (0,) if it does not say."""
    import re
    import subprocess

    try:
        said = subprocess.run([program, "--version"], stdout=subprocess.PIPE, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return (0,)
    found = re.search(r"(\d+)\.(\d+)", said.stdout)
    return tuple(int(number) for number in found.groups()) if found else (0,)


def checked() -> "list[str]":
    """The options that hold for everything that comes from outside."""
    options = ["--require-hashes", "--only-binary", ":all:"]
    return options + (["--no-index", "--find-links", WHEELS] if os.path.isdir(WHEELS) else [])


def call(command: "list[str]", what: str, must_succeed: bool = True) -> None:
    """Run one step quietly; on failure stop with the sentence that fits what the step said."""
    import subprocess

    done = subprocess.run(
        command,
        check=False,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        env=clean_environment(),
        cwd=HERE,
        pass_fds=OneAtATime.held,
    )
    if done.returncode and must_succeed:
        with open(os.path.join(VENV, "waywright-setup.log"), "w", encoding="utf-8") as file:
            file.write(done.stdout)
        raise explain(done.stdout, what)


def clean_environment() -> "dict[str, str]":
    """The shell's settings without those that would send an installation elsewhere."""
    unwanted = {"PYTHONDONTWRITEBYTECODE", "PYTHONHOME", "PYTHONPATH", "PIP_USER", "PIP_TARGET", "PIP_PREFIX"}
    return {name: value for name, value in os.environ.items() if name not in unwanted}


def explain(output: str, what: str) -> Stop:
    """The sentence for what pip or uv said."""
    said = output.lower()
    if any(sign in said for sign in ("hash mismatch", "do not match the hashes", "expected sha256")):
        return Stop(
            "A fetched library does not match its fingerprint in the lock files, so nothing was installed: try "
            "again on a network you trust, and report it if it stays so.",
            harmless=True,
        )
    if "has no wheels with a matching" in said or "is not a supported wheel" in said:
        return Stop(
            "One of the libraries is not offered ready-made for this kind of computer ({}); details stand in "
            ".venv/waywright-setup.log.".format(this_computer()["platform"]),
            harmless=True,
        )
    if os.path.isdir(WHEELS) and ("no matching distribution" in said or "no solution found" in said):
        return Stop("The wheels folder lacks a library: make this folder anew with `x.py bundle`.", harmless=True)
    signs = ("error sending request", "failed to fetch", "dns error", "connection", "proxy", "no matching distribution")
    if any(sign in said for sign in signs):
        return Stop(
            "No network: the first set-up fetches the libraries, so connect this computer once, or run "
            "`python3 x.py bundle` on a connected one and bring that folder here.",
            harmless=True,
        )
    lines = [line.strip() for line in output.splitlines() if line.strip()] or ["no reason given"]
    return Stop(f"Setting up failed ({what}: {lines[-1]}); the rest stands in .venv/waywright-setup.log.")


class OneAtATime:
    """Lets one set-up run at a time; the operating system frees the lock of a process that died."""

    held: "tuple[int, ...]" = ()  # passed on to pip and uv, so that an orphaned one still keeps others out

    def __enter__(self) -> "OneAtATime":
        os.makedirs(VENV, exist_ok=True)
        self.file = open(LOCK, "a")
        if not self.taken(wait=False):
            say("Another set-up is running here; waiting for it ...")
            self.taken(wait=True)
        OneAtATime.held = (self.file.fileno(),) if os.name != "nt" else ()
        return self

    def __exit__(self, *_: object) -> None:
        OneAtATime.held = ()
        self.file.close()

    def taken(self, wait: bool) -> bool:
        """Whether the lock is ours now."""
        try:
            if sys.platform == "win32":
                import msvcrt

                self.file.seek(0)
                msvcrt.locking(self.file.fileno(), msvcrt.LK_NBLCK, 1)
            else:
                import fcntl

                fcntl.flock(self.file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        except OSError:
            if not wait:
                return False
            import time

            time.sleep(0.5)
            return self.taken(wait)
        return True


# -------------------------------------------------------------------------------------------- verbs


def demo(rest: "list[str]") -> int:
    """The main job on an invented machine."""
    return run(["demo", *rest])


def run(rest: "list[str]") -> int:
    """Any waywright command."""
    ensure("runtime")
    script = os.path.join(BIN, "waywright" + EXE)
    return become([script, *rest] if os.name == "nt" else [PYTHON, script, *rest])


def test(rest: "list[str]") -> int:
    """The tests; all of them on all cores, a file never split, or as pytest is told."""
    ensure("dev")
    os.chdir(HERE)
    return become([PYTHON, "-m", "pytest", *(rest or ["-n", "auto", "--dist", "loadfile"])])


def docs(rest: "list[str]") -> int:
    """The documentation."""
    ensure("dev")
    os.chdir(HERE)
    return become([PYTHON, "-m", "mkdocs", *(rest or ["build", "--strict"])])


def check(rest: "list[str]") -> int:
    """Style, types and layers; all are run, whatever the first ones say."""
    import subprocess

    ensure("dev")
    commands = [["ruff", "check"], ["ruff", "format", "--check"], ["mypy"], ["mypy", "x.py"], ["lint-imports"]]
    failed = []
    for command in commands:
        say("$ " + " ".join(command))
        if subprocess.run([os.path.join(BIN, command[0] + EXE), *command[1:]], cwd=HERE, check=False).returncode:
            failed.append(" ".join(command))
    say("failed: " + ", ".join(failed) if failed else "All checks passed.")
    return 1 if failed else 0


def add(rest: "list[str]") -> int:
    """Optional parts, which stay from then on."""
    offered = optional_parts()
    if not rest or not set(rest) <= set(offered):
        say("usage: python3 x.py add PART, where PART is one of: " + ", ".join(offered))
        return 2
    ensure("runtime", *rest)
    say("Ready: " + ", ".join(rest))
    return 0


def bundle(rest: "list[str]") -> int:
    """A folder that installs without network on a computer of this kind."""
    import shutil

    folder = os.path.abspath(rest[0] if rest else os.path.join(HERE, "waywright-bundle"))
    if os.path.isdir(folder) and os.listdir(folder) and not os.path.exists(os.path.join(folder, "x.py")):
        raise Stop(f"{folder} holds other files: name a new or empty folder.")
    ensure("runtime")
    shutil.rmtree(folder, ignore_errors=True)
    wheels = os.path.join(folder, "wheels")
    os.makedirs(wheels)
    parts = ["uv", "runtime", *optional_parts()]
    for part in parts:
        say(f"Fetching the wheels: {part} ...")
        fetch = [PYTHON, "-I", "-m", "pip", "download", "--no-deps", "--no-input", "--dest", wheels]
        call([*fetch, *checked(), "-r", lock_file(part)], "bundle")
    for name in ("x.py", "pyproject.toml", "README.md", "LICENSE", *(os.path.basename(lock_file(p)) for p in parts)):
        shutil.copy(os.path.join(HERE, name), folder)
    skipped = shutil.ignore_patterns("__pycache__")
    shutil.copytree(os.path.join(HERE, "src"), os.path.join(folder, "src"), ignore=skipped)
    write_json(os.path.join(folder, "bundle.json"), this_computer())
    say(
        "Ready: {} ({:.0f} MB). Copy it to the disk of a computer of the same kind ({platform}, Python {python}) and "
        "run `python3 x.py demo` there.".format(folder, size_mb(folder), **this_computer())
    )
    return 0


def size_mb(folder: str) -> float:
    """What the files of a folder add up to."""
    files = (os.path.join(where, name) for where, _, names in os.walk(folder) for name in names)
    return sum(os.path.getsize(file) for file in files) / 1e6


def lock(rest: "list[str]") -> int:
    """Resolve every list anew and prove that each library has a wheel wherever Waywright shall run."""
    import tempfile

    uv = locking_uv()
    with open(os.path.join(HERE, "pyproject.toml"), encoding="utf-8") as file:
        parts = optional_parts_of(file.read())
    common = [uv, "pip", "compile", "--no-config", "--quiet", "--universal", "--generate-hashes", "--no-header"]
    common += ["--only-binary", ":all:", "--python-version", "{}.{}".format(*OLDEST), *rest]
    project = [*common, "pyproject.toml"]
    compile_list([*project, "--all-extras", "--group", "dev"], "dev")
    compile_list([*project, "-c", "requirements-dev.lock"], "runtime")
    for part in parts:
        compile_list([*project, "--extra", part, "-c", "requirements-dev.lock"], part)
    with tempfile.TemporaryDirectory() as folder:
        tools = os.path.join(folder, "tools.in")
        with open(tools, "w") as file:
            file.write("pip\nuv\nuv_build\n")
        compile_list([*common, "--no-annotate", "-c", "requirements-dev.lock", tools], "uv")
        for minor in range(OLDEST[1], NEWEST[1] + 1):
            for platform in PLATFORMS:
                prove_wheels(uv, os.path.join(folder, "none"), f"3.{minor}", platform)
    return 0


def compile_list(command: "list[str]", part: str) -> None:
    """Write one lock file, from the normal index alone whatever this computer is set to."""
    say("Resolving: " + os.path.basename(lock_file(part)))
    quiet_call([*command, "--output-file", os.path.basename(lock_file(part))])


def prove_wheels(uv: str, target: str, python: str, platform: str) -> None:
    """Stop if a locked library has no wheel for this Python and platform."""
    say(f"Wheels for Python {python} on {platform}")
    command = [uv, "pip", "install", "--no-config", "--quiet", "--dry-run", "--target", target]
    command += ["--python-version", python, "--python-platform", platform, *checked()]
    quiet_call([*command, "-r", lock_file("dev"), "-r", lock_file("uv")])


def quiet_call(command: "list[str]") -> None:
    """Run uv without any setting of this computer; stop with all it says."""
    import subprocess

    kept = {name: value for name, value in os.environ.items() if not name.startswith(("UV_", "PIP_"))}
    kept["MACOSX_DEPLOYMENT_TARGET"] = "15.0"
    done = subprocess.run(
        command, check=False, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=HERE, env=kept
    )
    if done.returncode:
        raise Stop(done.stdout.strip())


def locking_uv() -> str:
    """A uv to resolve with: the one in ``.venv``, or one on PATH, or a new one."""
    if os.path.exists(own_uv()):
        return own_uv()
    outside = uv_on_path()
    if outside:
        return outside
    ensure("runtime")
    return own_uv()


def optional_parts_of(pyproject: str) -> "list[str]":
    """The optional parts that pyproject.toml names."""
    import tomllib

    return sorted(tomllib.loads(pyproject)["project"].get("optional-dependencies", {}))


# ------------------------------------------------------------------------------------ small helpers


def become(command: "list[str]") -> int:
    """Hand over to the command: the same process where the system can."""
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name != "nt":
        os.execv(command[0], command)
    import subprocess

    return subprocess.run(command, check=False).returncode


def say(line: str) -> None:
    """Progress goes to stderr: a command's output stays clean."""
    print(line, file=sys.stderr, flush=True)


def read_json(path: str) -> "dict[str, Any]":
    """The record in a file; empty if there is none or it is broken."""
    import json

    try:
        with open(path, encoding="utf-8") as file:
            return dict(json.load(file))
    except (OSError, ValueError):
        return {}


def write_json(path: str, record: "dict[str, Any]") -> None:
    """All or nothing."""
    import json

    with open(path + ".part", "w", encoding="utf-8") as file:
        json.dump(record, file)
    os.replace(path + ".part", path)


VERBS = {verb.__name__: verb for verb in (demo, test, run, add, bundle, check, docs, lock)}


def main(arguments: "list[str]") -> int:
    """Do what the first word says; the exit code is 0, 1 for a failure told in one sentence, 2 for bad use."""
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(__doc__)
        return 0
    try:
        check_python(sys.version_info[:2])
        if arguments[0] not in VERBS:
            say("x.py knows: {}; `python3 x.py help` says more.".format(", ".join(VERBS)))
            return 2
        return VERBS[arguments[0]](arguments[1:])
    except Stop as stop:
        say(str(stop))
        return 1
    except OSError as error:
        say(f"A file could not be read or written ({error}): free some space or mend the rights, then try again.")
        return 1
    except KeyboardInterrupt:
        say("Stopped; the same command starts it again.")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
