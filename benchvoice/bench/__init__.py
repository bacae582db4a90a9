"""The stages put together: a recording or a live bench to a session."""
