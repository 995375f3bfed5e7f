"""Pure engineering functions: plain numbers in, plain numbers out, with their sources and limits."""
