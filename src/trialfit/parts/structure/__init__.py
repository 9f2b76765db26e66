"""Cut members, reinforcement, frames, brackets, welds and mounts."""
