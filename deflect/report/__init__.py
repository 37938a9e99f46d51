"""What is shown and written of an advice: terminal summary, JSON, HTML document, fields."""
