"""How each joint was made: by whom, with what, by which steps, and who looked at it."""
