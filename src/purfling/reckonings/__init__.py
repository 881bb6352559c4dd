"""One folder per bench computation: compute, pictures, sentences. What cli and shop both need."""
