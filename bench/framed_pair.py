"""The framed pair by a general-purpose finite-element library: dolfinx on a gmsh mesh.

    python3 framed_pair.py mesh  PROBLEM.json SIZE MESH.npz
    python3 framed_pair.py solve PROBLEM.json MESH.npz SOLVER

PROBLEM.json and the steel's curve are written by compare.go. SIZE scales every element; 1 is the coarsest
of use. SOLVER is amg (conjugate gradients with hypre's BoomerAMG) or direct (MUMPS). solve prints one
JSON object; it may run under mpirun.

The model: one octant, total scalar potential (H = -grad phi, phi = 0 on z = 0), quadratic tetrahedra graded
towards the edges of magnets and steel, a sphere far out on which the potential falls as a dipole's, Newton
with a line search on the energy, which is convex.
"""
import json
import resource
import sys
import time

import numpy as np

MU0 = 4e-7 * np.pi


def mesh(problem, size, out):
    """Graded tetrahedra of one octant: points in metres, cells, and the part of each cell (-1 for air)."""
    import gmsh
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    occ = gmsh.model.occ
    far = problem["far_m"]
    air = occ.addSphere(0, 0, 0, far, angle1=0, angle2=np.pi / 2, angle3=np.pi / 2)
    parts = []
    for p in problem["parts"]:
        low, high = np.maximum(p["low_m"], 0), np.array(p["high_m"])
        if np.all(high > 0):
            parts.append((3, occ.addBox(*low, *(high - low))))
    occ.fragment([(3, air)], parts)
    occ.synchronize()
    edges = []
    for _, tag in gmsh.model.getEntities(1):
        x0, y0, z0, x1, y1, z1 = gmsh.model.getBoundingBox(1, tag)
        inner = max(x1, y1, z1) < 0.9 * far
        # An edge on a plane of symmetry, where a face only ends in the picture, has no singular field.
        if inner and min(x1, y1, z1) > 1e-6:
            edges.append(tag)
    field = gmsh.model.mesh.field
    near = field.add("Distance")
    field.setNumbers(near, "EdgesList", edges)
    field.setNumber(near, "NNodesByEdge", 200)
    graded = field.add("Threshold")
    field.setNumber(graded, "IField", near)
    field.setNumber(graded, "LcMin", size * problem["edge_m"])
    field.setNumber(graded, "LcMax", size * (problem["edge_m"] + problem["growth"] * far))
    field.setNumber(graded, "DistMin", 0)
    field.setNumber(graded, "DistMax", far)
    gap = field.add("Box")
    for name, value in {"VIn": size * problem["gap_m"], "VOut": far, "XMax": problem["fit_m"], "YMax": problem["fit_m"],
                        "ZMax": problem["fit_m"]}.items():
        field.setNumber(gap, name, value)
    least = field.add("Min")
    field.setNumbers(least, "FieldsList", [graded, gap])
    field.setAsBackgroundMesh(least)
    for name in ("FromPoints", "FromCurvature", "ExtendFromBoundary"):
        gmsh.option.setNumber("Mesh.CharacteristicLength" + name, 0)
    gmsh.option.setNumber("Mesh.Optimize", 1)
    gmsh.model.mesh.generate(3)
    tags, points, _ = gmsh.model.mesh.getNodes()
    order = np.argsort(tags)
    kinds, _, nodes = gmsh.model.mesh.getElements(3)
    cells = np.searchsorted(tags[order], nodes[list(kinds).index(4)]).reshape(-1, 4)
    np.savez(out, points=points.reshape(-1, 3)[order], cells=cells)
    gmsh.finalize()


class Steel:
    """Isotropic steel from a table: H, B, dB/dH and the coenergy, at many points."""

    def __init__(self, file):
        self.h, self.b, self.slope, self.energy = np.loadtxt(file, delimiter=",", skiprows=1, unpack=True)

    def at(self, h):
        interp = lambda y: np.interp(h, self.h, y)
        return interp(self.b), interp(self.slope), interp(self.energy)


def solve(problem, mesh_file, solver):
    from mpi4py import MPI
    from petsc4py import PETSc
    import basix
    import dolfinx
    from dolfinx import fem
    import ufl
    comm = MPI.COMM_WORLD
    memory = lambda: comm.allreduce(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, MPI.SUM)
    empty = memory()
    points, cells = np.zeros((0, 3)), np.zeros((0, 4), dtype=np.int64)
    if comm.rank == 0:
        data = np.load(mesh_file)
        points, cells = data["points"], data["cells"].astype(np.int64)
    grid = dolfinx.mesh.create_mesh(comm, cells, points, ufl.Mesh(ufl.VectorElement("CG", ufl.tetrahedron, 1)))
    V = fem.FunctionSpace(grid, ("CG", 2))
    phi, v = fem.Function(V), ufl.TestFunction(V)
    step, d = fem.Function(V), ufl.TrialFunction(V)

    # Which part each cell lies in, from its middle.
    local = grid.topology.index_map(3).size_local + grid.topology.index_map(3).num_ghosts
    middle = dolfinx.mesh.compute_midpoints(grid, 3, np.arange(local, dtype=np.int32))
    marks = np.zeros(local, dtype=np.int32)
    DG0 = fem.FunctionSpace(grid, ("DG", 0))
    mu, J = fem.Function(DG0), fem.Function(DG0)
    mu.x.array[:] = MU0
    for p in problem["parts"]:
        inside = np.all((middle > p["low_m"]) & (middle < p["high_m"]), axis=1)
        mu.x.array[inside] = MU0 * p["recoil"]
        J.x.array[inside] = p["polarization_T"]
        marks[inside] = 1 if p["steel"] else 0
    tags = dolfinx.mesh.meshtags(grid, 3, np.arange(local, dtype=np.int32), marks)
    dx = ufl.Measure("dx", grid, subdomain_data=tags, metadata={"quadrature_degree": 2})
    far = problem["far_m"]
    grid.topology.create_connectivity(2, 3)
    rim = dolfinx.mesh.locate_entities_boundary(grid, 2, lambda x: np.linalg.norm(x, axis=0) > 0.999 * far)
    ds = ufl.Measure("ds", grid, subdomain_data=dolfinx.mesh.meshtags(grid, 2, np.sort(rim), np.full(len(rim), 1, dtype=np.int32)))
    floor = dolfinx.mesh.locate_entities_boundary(grid, 2, lambda x: x[2] < 1e-9)
    zero = fem.dirichletbc(PETSc.ScalarType(0), fem.locate_dofs_topological(V, 2, floor), V)

    # The steel's law at the quadrature points of its cells.
    Q = fem.FunctionSpace(grid, ufl.FiniteElement("Quadrature", ufl.tetrahedron, 2, quad_scheme="default"))
    chord, turn, energy = fem.Function(Q), fem.Function(Q), fem.Function(Q)
    steel = Steel(problem["curve_file"])
    steel_cells = np.flatnonzero(marks == 1).astype(np.int32)
    slots = Q.dofmap.list.array.reshape(local, -1)[steel_cells].ravel()
    rule, _ = basix.make_quadrature(basix.CellType.tetrahedron, 2)
    gradient = fem.Expression(ufl.grad(phi), rule)

    def law():
        H = np.linalg.norm(gradient.eval(steel_cells).reshape(-1, 3), axis=1)
        H = np.maximum(H, 1e-3)
        b, slope, w = steel.at(H)
        chord.x.array[slots], energy.x.array[slots] = b / H, w
        turn.x.array[slots] = (slope - b / H) / H**2

    g = ufl.grad
    air, iron = dx(0), dx(1)
    open_space = MU0 * 2 / far
    weak = (mu * ufl.dot(g(phi), g(v)) - J * v.dx(2)) * air + chord * ufl.dot(g(phi), g(v)) * iron + open_space * phi * v * ds(1)
    tangent = mu * ufl.dot(g(d), g(v)) * air + (chord * ufl.dot(g(d), g(v)) + turn * ufl.dot(g(phi), g(d)) * ufl.dot(g(phi), g(v))) * iron + open_space * d * v * ds(1)
    total = (0.5 * mu * ufl.dot(g(phi), g(phi)) - J * phi.dx(2)) * air + energy * iron + 0.5 * open_space * phi**2 * ds(1)
    weak, tangent, total = fem.form(weak), fem.form(tangent), fem.form(total)
    start, worked = time.perf_counter(), time.process_time()  # the forms are compiled: what follows is assembly and solution
    A, r = fem.petsc.create_matrix(tangent), fem.petsc.create_vector(weak)

    ksp = PETSc.KSP().create(comm)
    ksp.setOperators(A)
    options = PETSc.Options()
    if solver == "amg":
        ksp.setType("cg")
        ksp.getPC().setType("hypre")
        for k, value in {"pc_hypre_type": "boomeramg", "pc_hypre_boomeramg_strong_threshold": 0.6,
                         "pc_hypre_boomeramg_coarsen_type": "HMIS", "pc_hypre_boomeramg_interp_type": "ext+i",
                         "pc_hypre_boomeramg_P_max": 4, "pc_hypre_boomeramg_agg_nl": 0}.items():
            options[k] = value
    else:
        ksp.setType("preonly")
        ksp.getPC().setType("cholesky")
        ksp.getPC().setFactorSolverType("mumps")
    ksp.setFromOptions()

    def residual():
        with r.localForm() as local_r:
            local_r.set(0)
        fem.petsc.assemble_vector(r, weak)
        r.ghostUpdate(addv=PETSc.InsertMode.ADD, mode=PETSc.ScatterMode.REVERSE)
        fem.petsc.set_bc(r, [zero], scale=0)
        return r.norm()

    def value():
        return comm.allreduce(fem.assemble_scalar(total), MPI.SUM)

    # The start is that of steel of constant permeability.
    turn.x.array[:] = 0
    chord.x.array[slots] = 1000 * MU0
    steps = iterations = 0
    norm = first = residual()
    while True:
        A.zeroEntries()
        fem.petsc.assemble_matrix(A, tangent, bcs=[zero])
        A.assemble()
        ksp.setTolerances(rtol=max(1e-8, min(1e-2, 0.1 * norm / first)), max_it=500)
        ksp.solve(r, step.vector)
        step.x.scatter_forward()
        iterations += ksp.getIterationNumber()
        steps += 1
        before, share = (np.inf if steps == 1 else value()), 1.0
        base = phi.x.array.copy()
        while True:
            phi.x.array[:] = base - share * step.x.array
            law()
            if value() < before + 1e-12 * abs(before) or share < 1e-3:
                break
            share /= 2
        if steps == 1:
            first = residual()
        norm = residual()
        if norm < 1e-6 * first or steps == 40:
            break
    seconds, worked = time.perf_counter() - start, time.process_time() - worked
    field = gap_field(V, phi, problem["fit_m"], comm)
    unknowns = V.dofmap.index_map.size_global
    peak = memory()
    if comm.rank == 0:
        print(json.dumps({"unknowns": unknowns, "gap_T": field, "seconds": seconds, "cpu_seconds": worked,
                          "steps": steps, "iterations": iterations, "peak_MiB": peak, "empty_MiB": empty}))


def gap_field(V, phi, radius, comm):
    """Bz in the middle of the gap, from a least-squares fit of harmonic polynomials to the nodes in a ball."""
    x = V.tabulate_dof_coordinates()[:V.dofmap.index_map.size_local]
    values = phi.x.array[:len(x)]
    near = np.linalg.norm(x, axis=1) < radius
    x, values = comm.gather(x[near] / radius), comm.gather(values[near])
    if comm.rank > 0:
        return None
    x, y, z = np.concatenate(x).T
    s, c = x**2 + y**2, x**2 - y**2
    basis = [z, 2 * z**3 - 3 * z * s, z * c,
             8 * z**5 - 40 * z**3 * s + 15 * z * s**2, (2 * z**3 - z * s) * c, z * (c**2 - 4 * x**2 * y**2)]
    fit, *_ = np.linalg.lstsq(np.stack(basis, axis=1), np.concatenate(values), rcond=None)
    return -MU0 * fit[0] / radius


if __name__ == "__main__":
    with open(sys.argv[2]) as f:
        given = json.load(f)
    if sys.argv[1] == "mesh":
        mesh(given, float(sys.argv[3]), sys.argv[4])
    else:
        solve(given, sys.argv[3], sys.argv[4])
