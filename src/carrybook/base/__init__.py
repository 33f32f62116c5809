"""What every other room stands on: constants with sources, errors, units, compiled kernels."""
