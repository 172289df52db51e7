"""Pure functions of the pendulum, its losses and the impact strength."""
