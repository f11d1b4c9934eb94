"""One operator a file: gather, one call, write back, report."""
