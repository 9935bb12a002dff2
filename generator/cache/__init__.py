"""What was made once and need not be made again: values and files by what they follow from."""
