"""What the pipework is made of, and whether it suits what it carries, where it runs and how it moves."""
