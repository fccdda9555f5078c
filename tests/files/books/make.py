"""Makes server_book.zip: imports the phone's book into a fresh store and exports it again."""

import tempfile
from pathlib import Path

from barnlight.config import Config
from barnlight.exchange.exporting import export_zip
from barnlight.exchange.importing import import_zip
from barnlight.services import Services

HERE = Path(__file__).parent

if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        services = Services.open(Config(data_dir=Path(folder)))
        import_zip(services, services.space(), HERE / "phone_book.zip")
        (HERE / "server_book.zip").unlink(missing_ok=True)
        export_zip(services, services.space(), HERE / "server_book.zip")
        services.database.close()
