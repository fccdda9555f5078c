"""The whole store in one file and back: writing, restoring, and copies by the clock."""
