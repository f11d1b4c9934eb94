"""From a raw scan to a closed, upright master of true size."""
