"""What is printed where: headed tables in any orientation, key-value lists, sentences."""
