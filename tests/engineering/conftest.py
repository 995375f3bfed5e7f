"""Property tests here are judged by what they find, not by how busy the machine is, and find the same every time."""

from hypothesis import settings

settings.register_profile("engineering", deadline=None, derandomize=True)
settings.load_profile("engineering")
