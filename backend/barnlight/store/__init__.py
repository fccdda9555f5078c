"""The only place with SQL or files of the store: database, media on disk, and the functions over them."""
