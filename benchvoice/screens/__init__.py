"""Full-screen work at the terminal: the corrections editor and the live bench."""

__all__: list[str] = []
