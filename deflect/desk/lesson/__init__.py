"""The lesson room: a teaching die on a teaching press, guided lessons, and the lesson as one file to take along."""
