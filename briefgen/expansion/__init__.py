"""Content as written becomes content as planned: what is said once is written out. Pure: a library goes in and out."""
