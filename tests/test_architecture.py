"""The rooms: imports point one way, and start-up stays quick."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "sequencer"

# What each room may import besides itself and the standard library.
ALLOWED = {
    "problem": set(),
    "shipped": set(),
    "model": {"problem"},
    "reading": {"model", "problem", "yaml"},
    "writing": {"reading", "model", "problem"},
    "trade": {"model", "problem"},
    "records": {"planning", "trade", "model", "problem"},
    "planning": {"trade", "model", "problem", "networkx"},
    "drawing": set(),
    "sheets": {"drawing", "planning", "records", "trade", "model", "problem", "shipped", "jinja2"}
    | {"markupsafe", "weasyprint", "fontTools", "uharfbuzz", "font_source_sans_pro", "PIL"},
    "report": {"problem"},
    "commands": {"report", "sheets", "records", "planning", "trade", "writing", "reading"}
    | {"model", "problem", "shipped", "click", "__version__"},
    "entries": {"sheets", "planning", "reading", "model", "problem"},
    "__main__": {"commands"},
    "__init__": {"entries"},
}


def _room(module: str) -> str:
    parts = module.split(".")
    return parts[1] if parts[0] == "sequencer" and len(parts) > 1 else parts[0]


def _imports(file: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file} imports by a relative path"
            inside = node.module == "sequencer"
            names = [f"sequencer.{alias.name}" for alias in node.names] if inside else [node.module]
            found |= {name for name in names if name}
    return {name for name in found if name.split(".")[0] not in sys.stdlib_module_names}


@pytest.mark.parametrize(
    "file", sorted(PACKAGE.rglob("*.py")), ids=lambda file: str(file.relative_to(PACKAGE))
)
def test_imports_point_one_way(file: Path) -> None:
    relative = file.relative_to(PACKAGE)
    room = relative.parts[0].removesuffix(".py")
    found = {_room(name) for name in _imports(file)} - {room}
    assert found <= ALLOWED[room], f"{relative} imports what its room may not"


def test_every_package_imported_is_asked_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = {re.split(r"[<>=\[]", one)[0].casefold() for one in project["dependencies"]}
    files = PACKAGE.rglob("*.py")
    packages = {name.split(".")[0] for file in files for name in _imports(file)} - {"sequencer"}
    bring = packages_distributions()
    assert [name for name in packages if not {b.casefold() for b in bring[name]} & asked] == []


def test_every_room_is_listed() -> None:
    rooms = {
        file.name.removesuffix(".py")
        for file in PACKAGE.iterdir()
        if file.suffix == ".py" or (file / "__init__.py").is_file()
    }
    assert rooms <= set(ALLOWED)


@pytest.mark.parametrize(
    "arguments", [["--help"], ["--version"], ["plan", "--help"], ["log", "--help"]]
)
def test_slow_libraries_are_not_loaded_for_help(arguments: list[str]) -> None:
    loaded = _loaded_by(f"from sequencer.commands import main; main({arguments!r})")
    assert not loaded & {"weasyprint", "networkx", "pint", "jinja2"}


def test_check_of_a_sound_model_loads_no_slow_library() -> None:
    model = ROOT / "assemblies" / "hoist-head.yaml"
    loaded = _loaded_by(f"from sequencer.commands import main; main(['check', {str(model)!r}])")
    assert not loaded & {"weasyprint", "networkx", "pint", "jinja2"}


def _loaded_by(code: str) -> set[str]:
    at_exit = "atexit.register(lambda: print(*sys.modules, file=sys.stderr))"
    script = f"import atexit, sys\n{at_exit}\n{code}"
    done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return set(done.stderr.split())
