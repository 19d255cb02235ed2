"""Edits: small functions Document -> Document; each leaves a document that keeps the rules."""
