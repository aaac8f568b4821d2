"""OpenRaster files as the tests take them apart: with zipfile, an XML parser and Pillow."""

import io
import zipfile
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from guidekit.layers.model import Stack
from support.catalogue import writer_called


def ora(stack: Stack) -> bytes:
    """The bytes of the one file that the writer makes."""
    (output,) = writer_called("ora").write(stack)
    assert output.name == f"{stack.file_name}.ora"
    return b"".join(output.pieces)


def opened(stack: Stack) -> zipfile.ZipFile:
    """The file as a ZIP."""
    return zipfile.ZipFile(io.BytesIO(ora(stack)))


def image_of(stack: Stack) -> ET.Element:
    """The root of stack.xml."""
    return ET.fromstring(opened(stack).read("stack.xml"))


def picture(file: zipfile.ZipFile, path: str) -> Image.Image:
    """A PNG from inside."""
    return Image.open(io.BytesIO(file.read(path)))


def pixels(image: Image.Image) -> NDArray[np.int64]:
    """Red, green, blue and alpha."""
    return np.asarray(image.convert("RGBA")).astype(np.int64)
