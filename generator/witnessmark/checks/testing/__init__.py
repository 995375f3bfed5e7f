"""What pressure tests show."""
