"""What sections are declared to carry."""
