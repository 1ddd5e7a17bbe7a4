"""A measured set of invented roof sections: what `read` must find in each, and what it must not."""
