"""Many tyres in one go: columns of what was written in, columns of what was decided out."""
