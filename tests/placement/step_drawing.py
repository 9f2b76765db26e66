"""A solid of flat triangles as a STEP drawing (ISO 10303-21, application protocol 214), for the tests of what reads one."""

from __future__ import annotations

import numpy as np

_HEAD = (
    "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('part','2026-01-01T00:00:00',(''),(''),'','','');\n"
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\nDATA;\n"
)
_CONTEXT = (
    "APPLICATION_CONTEXT('automotive design')",
    "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#1)",
    "PRODUCT_CONTEXT('',#1,'mechanical')",
    "PRODUCT('part','part','',(#3))",
    "PRODUCT_DEFINITION_FORMATION('','',#4)",
    "PRODUCT_DEFINITION_CONTEXT('part definition',#1,'design')",
    "PRODUCT_DEFINITION('design','',#5,#6)",
    "PRODUCT_DEFINITION_SHAPE('','',#7)",
    "(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))",
    "(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))",
    "(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())",
    "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-05),#9,'distance_accuracy_value','')",
    (
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#12))"
        "GLOBAL_UNIT_ASSIGNED_CONTEXT((#9,#10,#11))REPRESENTATION_CONTEXT('',''))"
    ),
)


class _Drawing:
    """The lines of a drawing, numbered as they are added."""

    def __init__(self, points) -> None:
        self.rows = list(_CONTEXT)
        self.points = points
        self.corners = [self.add(f"CARTESIAN_POINT('',{_xyz(point)})") for point in points]
        self.vertices = [self.add(f"VERTEX_POINT('',{corner})") for corner in self.corners]
        self.edges: dict[tuple[int, int], str] = {}

    def add(self, text: str) -> str:
        """One line more; its number."""
        self.rows.append(text)
        return f"#{len(self.rows)}"

    def direction(self, vector) -> str:
        """A unit vector."""
        return self.add(f"DIRECTION('',{_xyz(vector / np.linalg.norm(vector))})")

    def edge(self, a: int, b: int) -> str:
        """The edge between two corners, the way it is walked."""
        key = min(a, b), max(a, b)
        if key not in self.edges:
            along = self.direction(self.points[key[1]] - self.points[key[0]])
            vector = self.add(f"VECTOR('',{along},1.)")
            line = self.add(f"LINE('',{self.corners[key[0]]},{vector})")
            ends = f"{self.vertices[key[0]]},{self.vertices[key[1]]}"
            self.edges[key] = self.add(f"EDGE_CURVE('',{ends},{line},.T.)")
        return self.add(f"ORIENTED_EDGE('',*,*,{self.edges[key]},{'.T.' if a < b else '.F.'})")

    def face(self, corners) -> str:
        """A flat triangle."""
        a, b, c = (self.points[number] for number in corners)
        walked = ",".join(self.edge(corners[k], corners[(k + 1) % 3]) for k in range(3))
        loop = self.add(f"EDGE_LOOP('',({walked}))")
        bound = self.add(f"FACE_OUTER_BOUND('',{loop},.T.)")
        normal, along = self.direction(np.cross(b - a, c - a)), self.direction(b - a)
        axes = self.add(f"AXIS2_PLACEMENT_3D('',{self.corners[corners[0]]},{normal},{along})")
        plane = self.add(f"PLANE('',{axes})")
        return self.add(f"ADVANCED_FACE('',({bound}),{plane},.T.)")


def _xyz(vector) -> str:
    return "(" + ",".join(f"{value:.9f}" for value in vector) + ")"


def step_drawing(points, triangles) -> str:
    """The text of a drawing in mm of a closed surface: points (n, 3), triangles (m, 3)."""
    drawing = _Drawing(np.asarray(points, float))
    faces = ",".join(drawing.face(list(map(int, corners))) for corners in triangles)
    shell = drawing.add(f"CLOSED_SHELL('',({faces}))")
    body = drawing.add(f"MANIFOLD_SOLID_BREP('',{shell})")
    shape = drawing.add(f"ADVANCED_BREP_SHAPE_REPRESENTATION('',({body}),#13)")
    drawing.add(f"SHAPE_DEFINITION_REPRESENTATION(#8,{shape})")
    rows = "".join(f"#{number}={row};\n" for number, row in enumerate(drawing.rows, 1))
    return f"{_HEAD}{rows}ENDSEC;\nEND-ISO-10303-21;\n"
