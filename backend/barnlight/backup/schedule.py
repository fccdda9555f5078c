"""Copies by the clock while the server runs: one thread that looks each minute whether one is due, and drops the old ones."""

from __future__ import annotations

import logging
import shutil
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

from barnlight.backup import form
from barnlight.backup.keeping import Keep, kept
from barnlight.backup.writing import UNFINISHED, write_backup
from barnlight.errors import BarnlightError
from barnlight.services import Services

log = logging.getLogger(__name__)

LOOK_EVERY_S = 60.0
AGAIN_AFTER_FAILURE_S = 3600.0


class Schedule:
    """Copies of one store into one folder, which it makes if missing. It touches no file there that a backup is not named like."""

    def __init__(self, services: Services) -> None:
        config = services.config
        self._services = services
        self._folder = Path(config.backup_dir).expanduser()
        self._every = timedelta(hours=config.backup_every_hours)
        self._keep = Keep(config.backup_keep_days, config.backup_keep_weeks, config.backup_keep_months)
        self._stop = threading.Event()

    def start(self) -> None:
        """Begins at once if a copy is due. The thread ends with the program; a copy cut short leaves no file of its name."""
        threading.Thread(target=self._run, name="backups", daemon=True).start()

    def stop(self) -> None:
        """No further copy is begun."""
        self._stop.set()

    def copy_if_due(self) -> Path | None:
        """Make a copy unless the last one is young enough, then drop those no rule keeps. Raises BarnlightError."""
        now = datetime.fromtimestamp(self._services.now_ms() / 1000, UTC)
        there = self._there()
        # A copy from the future, as after a clock was wrong, does not put off the next one.
        if any(now - self._every < moment <= now for moment in there):
            return None
        self._folder.mkdir(parents=True, exist_ok=True)
        for left in self._folder.glob(f"{UNFINISHED}*"):
            shutil.rmtree(left, ignore_errors=True)
        made = write_backup(self._services, self._folder)
        if made.missing:
            log.error("%d photos or sounds are missing in the store and so in its backup %s; look with `barnlight verify`", len(made.missing), made.path)
        there = self._there()
        for moment in there.keys() - kept(there, self._keep):
            there[moment].unlink(missing_ok=True)
        return made.path

    def _run(self) -> None:
        wait_s = 0.0
        while not self._stop.wait(wait_s):
            wait_s = LOOK_EVERY_S
            try:
                self.copy_if_due()
            except BarnlightError as error:
                log.error("No backup was made: %s %s", error.message, error.hint or "")
                wait_s = AGAIN_AFTER_FAILURE_S
            except Exception:  # the thread must outlive whatever a disk does
                log.exception("No backup was made")
                wait_s = AGAIN_AFTER_FAILURE_S

    def _there(self) -> dict[datetime, Path]:
        found = {form.moment_of(path.name): path for path in self._folder.glob("barnlight-*.zip")}
        return {moment: path for moment, path in found.items() if moment is not None}
