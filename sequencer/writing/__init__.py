"""Model files made and mended: new ones, tables into them, quotation marks, the schema."""
