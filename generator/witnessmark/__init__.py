"""Handover packs for press-jointed pipework."""
