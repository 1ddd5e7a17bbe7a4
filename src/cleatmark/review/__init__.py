"""Joins the rooms: runs a rulebook over the facts of a job and a submittal."""
