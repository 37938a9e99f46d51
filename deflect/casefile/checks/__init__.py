"""Cross-checks: what no single entry can show. Each yields objections at places of the file."""
