"""The guide as data: tables, their schemas, feeds, the list of pages and the manifest."""
