"""ROM images: written, compared, checked, decoded."""
