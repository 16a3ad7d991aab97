"""What members need to share scripts: fingerprints, packs, signatures."""
