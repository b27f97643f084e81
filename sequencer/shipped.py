"""Find the folders that ship with the program."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped_folder(name: str) -> Path:
    """Return the folder `layouts` or `assemblies`, installed or in a checkout.

    Raises
    ------
    FileNotFoundError
        If the installation is damaged and the folder is in neither place.
    """
    installed = _PACKAGE / "_shipped" / name  # in a wheel
    checkout = _PACKAGE.parent / name  # in the repository, or an editable install
    folders = (
        (checkout, installed) if (_PACKAGE.parent / "pyproject.toml").is_file() else (installed,)
    )
    for folder in folders:
        if folder.is_dir():
            return folder
    tried = " or ".join(str(folder) for folder in folders)
    raise FileNotFoundError(f"no {name} folder at {tried}")
