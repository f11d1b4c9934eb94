"""Bytes to arrays and back, one file a format."""
