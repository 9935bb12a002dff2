"""The rules and readers of records, written once more in the language of browsers by a program."""
