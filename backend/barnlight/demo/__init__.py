"""The demo: invented people and pieces, with pictures and sounds made by our own code."""
