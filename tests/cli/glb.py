"""A reader of binary glTF after the specification's own layout (Khronos, glTF 2.0), without the program."""
import json
import struct

import numpy


class Glb:
    def __init__(self, data):
        magic, version, length, size, kind = struct.unpack("<5I", data[:20])
        assert (magic, version, length, kind) == (0x46546C67, 2, len(data), 0x4E4F534A), "no glTF 2.0"
        self.tree = json.loads(data[20:20 + size])
        self.body = data[20 + size + 8:]
        assert self.tree["buffers"][0]["byteLength"] == len(self.body), "its bytes are cut short"

    def array(self, index):
        accessor = self.tree["accessors"][index]
        view = self.tree["bufferViews"][accessor["bufferView"]]
        kind = {5126: "<f4", 5125: "<u4"}[accessor["componentType"]]
        flat = numpy.frombuffer(self.body, kind, offset=view["byteOffset"], count=view["byteLength"] // 4)
        return flat.reshape(-1, 3) if accessor["type"] == "VEC3" else flat

    def places(self):
        return self.tree["nodes"][0]["children"]

    def bodies(self, place):
        """Names, points in metres with y up, and corners of the bodies of a place."""
        matrix = numpy.eye(4)
        for node in (0, place):
            matrix = matrix @ numpy.array(self.tree["nodes"][node]["matrix"]).reshape(4, 4).T
        for part in self.tree["nodes"][place]["children"]:
            primitive = self.tree["meshes"][self.tree["nodes"][part]["mesh"]]["primitives"][0]
            points, corners = self.array(primitive["attributes"]["POSITION"]), self.array(primitive["indices"])
            assert corners.max() < len(points)
            yield (self.tree["nodes"][part]["name"], (matrix @ numpy.c_[points, numpy.ones(len(points))].T)[:3].T,
                   corners.reshape(-1, 3))
