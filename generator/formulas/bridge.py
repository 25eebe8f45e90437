"""What each factor of a product did to a difference: parts that add up to all of it, whichever factor is told first."""

from __future__ import annotations


def effect_of_two(before: float, after: float, other_before: float, other_after: float) -> float:
    """What the change of one of two factors did to their product.

    The two such effects of a product add up to its whole difference; what both changed together is shared evenly.

    Formula: e = (a_1 - a_0) * (b_0 + b_1) / 2
    Where:
        e: effect of the factor, in the unit of the product
        a_0 (before): factor before, any one unit
        a_1 (after): factor after, in the same unit
        b_0 (other_before): other factor before, any one unit
        b_1 (other_after): other factor after, in the same unit
    Range: any numbers.
    Source: Shapley's value of two factors, as in de Boer and Rodrigues, Decomposition analysis (Economic Systems Research, 2020); from memory.
    """
    return (after - before) * (other_before + other_after) / 2


def effect_of_three(
    before: float,
    after: float,
    second_before: float,
    second_after: float,
    third_before: float,
    third_after: float,
) -> float:
    """What the change of one of three factors did to their product.

    The three such effects of a product add up to its whole difference.

    Formula: e = (a_1 - a_0) * (2 * b_0 * c_0 + b_0 * c_1 + b_1 * c_0 + 2 * b_1 * c_1) / 6
    Where:
        e: effect of the factor, in the unit of the product
        a_0 (before): factor before, any one unit
        a_1 (after): factor after, in the same unit
        b_0 (second_before): second factor before, any one unit
        b_1 (second_after): second factor after, in the same unit
        c_0 (third_before): third factor before, any one unit
        c_1 (third_after): third factor after, in the same unit
    Range: any numbers.
    Source: Shapley's value of three factors, as in de Boer and Rodrigues, Decomposition analysis (Economic Systems Research, 2020); from memory.
    """
    b_0, b_1, c_0, c_1 = second_before, second_after, third_before, third_after
    return (after - before) * (2 * b_0 * c_0 + b_0 * c_1 + b_1 * c_0 + 2 * b_1 * c_1) / 6
