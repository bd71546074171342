"""What the shapes refuse, and in which words."""


class ImpossibleShape(ValueError):
    """Dimensions from which no vessel can be made.

    argument   name of the argument at fault, e.g. "diameter_m"
    value      what was given (None where it is missing)
    accepted   what would be accepted, e.g. "a finite length above 0 m"
    """

    def __init__(self, argument: str, value: object, accepted: str) -> None:
        self.argument = argument
        self.value = value
        self.accepted = accepted
        given = f"{argument} is missing" if value is None else f"{argument} = {value!r} is impossible"
        super().__init__(f"{given}: accepted is {accepted}")
