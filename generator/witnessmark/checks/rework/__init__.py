"""What changes to finished work ask for."""
