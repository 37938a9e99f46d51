"""Exact figures by routes of their own, which share nothing with the mechanics: series, closed forms, Ritz."""
