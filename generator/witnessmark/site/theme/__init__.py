"""The MkDocs theme: a bare frame that the site renderer fills."""
