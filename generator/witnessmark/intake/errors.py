"""The error that ends a run: nothing can be built, and one sentence says why."""


class UnusableProject(Exception):
    """Nothing can be built from the project; ``str()`` is one clear sentence naming the place and what would fix it."""
