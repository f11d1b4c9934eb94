"""Shared geometry that knows nothing of the craft."""
