"""HTTPS in one's own house: a local certificate authority, this computer's certificate, and the server that speaks TLS."""
