"""What the answers of all checks amount to: chains, guarantee evidence, completeness, traces, samples, readiness."""
