"""The commands, a file each; each is imported only when it is asked for."""
