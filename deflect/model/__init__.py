"""What a case is: frozen values in N, mm, MPa, rad, kg and K; no arithmetic of mechanics, no files."""
