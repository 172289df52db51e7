"""One small function a rule: results held against the method, the rig, the exercise and each other."""
