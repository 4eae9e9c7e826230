"""What is true of every record: values, vocabularies, units, sizes and the JSON Schema."""
