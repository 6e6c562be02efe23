"""Where a net's model comes from, and what it means when it can not be run.

A net is optional: a package that was never installed is simply not asked, and the outcome says so. A package
that is there but lacks its model, holds another one, or can not be run is another matter: somebody relies on
it, so it is a `NetBrokenError` and never a quiet pass. What is looked for is decided in `face_net` and
`print_net`.

A model is found beside its package without importing it, and is taken only when its SHA-256 is the one that was
tried: an exchanged model might see nothing.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from journey.errors import JourneyError


class NetBrokenError(JourneyError):
    """A net is installed and can not be run as it was tried."""


@dataclass(frozen=True, slots=True)
class PinnedModel:
    """One file of weights inside an installed package."""

    package: str
    """Import name; the package itself is not imported."""
    path: str
    """Below the package's folder, with forward slashes."""
    sha256: str

    def found(self) -> Path:
        """Where the file is. Raises NetBrokenError when it is missing or not the one that was tried."""
        folder = package_folder(self.package)
        file = folder / self.path if folder is not None else None
        if file is None or not file.is_file():
            raise NetBrokenError(f"{self.package} is installed without its model {self.path}")
        if hashlib.sha256(file.read_bytes()).hexdigest() != self.sha256:
            raise NetBrokenError(f"{self.package} holds another model {self.path} than the one that was tried")
        return file


def package_folder(package: str) -> Path | None:
    """The folder of an installed package, which is not imported; None when it is not installed."""
    spec = find_spec(package)
    places = list(spec.submodule_search_locations or ()) if spec is not None else []
    return Path(places[0]) if places else None
