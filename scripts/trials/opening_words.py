"""What requests of openings have in common in every wall."""


def cut_words(chance, log, one_in, setback_in, widest, steepest):
    """How an opening is cut: a setback up to `widest` mm once in `setback_in`, a bevel, up to `steepest` degrees, and the metal."""
    words = []
    if one_in(chance, setback_in):
        words += ["setback", f"{log(chance, 0.1, widest):.4f}mm"]
    bevel = chance.choice(("square", "square", "radial", "straight", "splayed"))
    if bevel != "square":
        words += ["bevel", bevel]
    if bevel == "splayed" and one_in(chance, 2):
        words += ["splay", f"{chance.uniform(1.0, steepest):.4f}"]
    if one_in(chance, 3):
        words += ["metal", "yes"]
    return words
