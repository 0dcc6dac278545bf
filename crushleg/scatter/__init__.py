"""MANY LANDINGS: scattered inputs, sampling, studies over workers, probabilities."""
