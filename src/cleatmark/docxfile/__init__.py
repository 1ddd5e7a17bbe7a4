"""Opening a DOCX that somebody else wrote: its parts as checked XML, within limits, nothing fetched or run."""
