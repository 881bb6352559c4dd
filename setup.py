"""Build step: compile the gettext catalogues into the package before it is packed."""

import subprocess
import sys
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py


class BuildWithCatalogues(build_py):
    """build_py that first compiles every .po beside its .mo."""

    def run(self) -> None:
        here = Path(__file__).resolve().parent
        subprocess.run([sys.executable, str(here / "tools" / "catalogues.py"), "compile"], check=True)
        super().run()


setup(cmdclass={"build_py": BuildWithCatalogues})
