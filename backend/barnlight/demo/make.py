"""Writes every story of the demo into a folder: `python -m barnlight.demo.make sample_sessions`."""

import shutil
import sys
from pathlib import Path

from barnlight.demo.stories import STORIES


def main(folder: Path) -> None:
    for name, tell in STORIES.items():
        target = folder / name
        shutil.rmtree(target, ignore_errors=True)
        story = tell()
        story.write(target)
        size_kb = sum(path.stat().st_size for path in target.rglob("*") if path.is_file()) // 1000
        print(f"{name}: {len(story.changes)} changes, {len(story.media)} files, {size_kb} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
