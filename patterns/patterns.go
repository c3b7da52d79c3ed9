package patterns
