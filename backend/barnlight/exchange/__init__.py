"""Foreign data's one door: photos and sounds, and files in the open export format, in and out."""
