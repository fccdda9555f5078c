"""Says that the server is ready: its store is open and answers."""

from __future__ import annotations

from flask_smorest import Blueprint
from marshmallow import Schema, fields
from sqlalchemy import text

from barnlight.services import services

blueprint = Blueprint("health", __name__, description="Whether the server is ready")


class Health(Schema):
    status = fields.String()


@blueprint.get("/healthz")
@blueprint.response(200, Health)
def health() -> dict:
    """Ready to answer."""
    with services().database.read() as db:
        db.execute(text("SELECT 1"))
    return {"status": "ready"}
