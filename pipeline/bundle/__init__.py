"""The finished folder: manifest, checksums, and how one bundle takes the place of another."""
