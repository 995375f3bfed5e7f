"""Records, findings and quantities as frozen types, with their places in the source files."""
