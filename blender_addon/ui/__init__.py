"""What people see and press; every decision is core's."""
