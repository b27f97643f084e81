"""The planner: whether an order exists, why not, which one to take, and what it tells. Pure."""
