"""Drawings as designers keep them, many pieces and sizes in a file: masters are cut out before anything is read."""
