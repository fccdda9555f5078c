"""The condition report: measures recordings, renders the plain view to HTML and PDF. Pure parts are in `domain/report_*`."""
