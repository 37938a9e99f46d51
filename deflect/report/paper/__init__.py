"""The report on paper: the document's own sections as PDF, and plans of one page."""
