"""benchvoice: an offline voice-and-keyboard bench assistant for rebuilders."""
