"""JSON Schema of every kind of file, made from the models that check them.

It is for editors that complete and check while one types. It lets pass what is right and tells
unknown keys, wrong kinds of values and wrong words; whether values go together, ``check`` tells.
"""

from guidekit.schema.files import KINDS, schema_of

__all__ = ["KINDS", "schema_of"]
