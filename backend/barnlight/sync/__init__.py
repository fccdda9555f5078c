"""How devices and the server come to hold the same records; README.md is the protocol."""
