"""Every setting of the server: its name, type, default and meaning, read from BARNLIGHT_* variables or the command line."""

import os
from collections.abc import Mapping
from dataclasses import Field, dataclass, field, fields
from pathlib import Path
from typing import Any, get_type_hints

from barnlight.errors import ConfigError

PREFIX = "BARNLIGHT_"
MIB = 1024 * 1024


def setting(default: Any, meaning: str) -> Any:
    """One setting with its meaning, which the settings table shows."""
    return field(default=default, metadata={"meaning": meaning})


@dataclass(frozen=True, kw_only=True)
class Config:
    """The settings of one running server. Each is also a variable, e.g. `port` is BARNLIGHT_PORT."""

    data_dir: Path = setting(Path.home() / "Barnlight", "folder that holds the store: database, photos and sounds")
    database_url: str = setting("", "SQLAlchemy address of the database; empty means an SQLite file in data_dir")
    host: str = setting("localhost", "name or address to listen on; with https every address unless another is named")
    port: int = setting(8787, "port to listen on, 1 to 65535")
    public_url: str = setting("", "address by which phones reach this server; empty means http://host:port")
    space_name: str = setting("Home", "name of the book of records that a new store begins with")
    threads: int = setting(8, "requests answered at the same time")
    max_request_bytes: int = setting(32 * MIB, "largest request body in bytes")
    rate_limits: bool = setting(True, "whether guessing of codes and links is slowed down")
    backup_dir: str = setting("", "folder for copies by the clock while serving; empty means none")
    backup_every_hours: int = setting(24, "hours between two such copies")
    backup_keep_days: int = setting(7, "of how many days the newest copy is kept")
    backup_keep_weeks: int = setting(5, "of how many weeks the newest copy is kept")
    backup_keep_months: int = setting(12, "of how many months the newest copy is kept")
    https: bool = setting(False, "whether to serve HTTPS with a certificate made here, as --https does")
    https_names: str = setting("", "names or home addresses for that certificate, commas between; the first is the one people open")
    trust_port: int = setting(0, "port of the page that leads phones to trust it; 0 means the one after port")
    proxy_hops: int = setting(0, "how many reverse proxies in front may be believed about scheme and sender")

    def __post_init__(self) -> None:
        for name, port in (("port", self.port), ("trust_port", self.trust_at)):
            if not 1 <= port <= 65535:
                raise ConfigError(f"The {name.replace('_', ' ')} must be between 1 and 65535, not {port}.", field=name)
        for name in ("threads", "max_request_bytes", "backup_every_hours"):
            if getattr(self, name) < 1:
                raise ConfigError(f"{PREFIX}{name.upper()} must be at least 1.", field=name)

    @property
    def address(self) -> str:
        """The address people open, without a slash at the end."""
        return (self.public_url or f"http://{self.host}:{self.port}").rstrip("/")

    @property
    def trust_at(self) -> int:
        """The port of the trust page, used with HTTPS only; the highest port has its own before it."""
        return self.trust_port or (self.port + 1 if self.port < 65535 else self.port - 1)

    @property
    def names_wanted(self) -> list[str]:
        """The names and addresses asked for, one by one."""
        return [name for name in (each.strip() for each in self.https_names.split(",")) if name]

    @property
    def tls_dir(self) -> Path:
        """Folder of the certificate authority and this computer's certificate, with their keys."""
        return self.data_dir / "tls"

    @property
    def database(self) -> str:
        """The SQLAlchemy address actually used."""
        return self.database_url or f"sqlite:///{self.data_dir / 'barnlight.sqlite3'}"

    @property
    def media_dir(self) -> Path:
        """Folder of the photos and sounds, named by their hash."""
        return self.data_dir / "media"

    @classmethod
    def load(cls, environ: Mapping[str, str] = os.environ, **given: Any) -> "Config":
        """Settings from `given` (the command line; None means not given), else from the environment, else the defaults."""
        values = {name: value for name, value in given.items() if value is not None}
        kinds = get_type_hints(cls)
        for each in fields(cls):
            text = environ.get(PREFIX + each.name.upper())
            if each.name not in values and text is not None:
                values[each.name] = _read(each, kinds[each.name], text)
        return cls(**values)


def _read(each: Field, kind: type, text: str) -> Any:
    """The value that the words of an environment variable stand for."""
    if kind is bool:
        if text.lower() not in ("0", "1", "false", "true", "no", "yes"):
            raise ConfigError(f"{PREFIX}{each.name.upper()} must be yes or no, not {text!r}.", field=each.name)
        return text.lower() in ("1", "true", "yes")
    if kind is int:
        try:
            return int(text)
        except ValueError:
            raise ConfigError(f"{PREFIX}{each.name.upper()} must be a whole number, not {text!r}.", field=each.name) from None
    return Path(text).expanduser() if kind is Path else text
