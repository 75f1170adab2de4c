//! Tables, files and their figures.
